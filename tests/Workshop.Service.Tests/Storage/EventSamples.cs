namespace Workshop.Service.Tests.Storage;

/// <summary>For every event type the data of one event with every member it may have.</summary>
public static class EventSamples
{
    public static readonly IReadOnlyDictionary<string, string> Full = new Dictionary<string, string>
    {
        ["stage.started"] = """{"stage":"cleaning"}""",
        ["stage.finished"] = """{"stage":"reserve-and-functions"}""",
        ["stage.sent-back"] = """{"stage":"final-control","to":"dial-and-hands","reason":"fibre under the glass"}""",
        ["hold.placed"] = """{"hold":"outside-firm","reason":"dial is with the printer","until":"2026-03-20","note":"second time","stopsPromise":false}""",
        ["hold.lifted"] = """{"hold":"mix-up","reason":"compared with the photos","note":"both are right"}""",
        ["piece.given"] = """{"expectedBack":"2026-04-01","piece":"PABCDEFG","kind":"dial-and-hands","from":"people/mara","to":"firms/dial-printer"}""",
        ["piece.taken"] = """{"piece":"movement","kind":"movement","from":"trays/7","to":"benches/bench-2"}""",
        ["piece.put"] = """{"piece":"movement","kind":"movement","from":"benches/bench-2","to":"places/safe"}""",
        ["label.attached"] = """{"label":"P4TW7KAQ","piece":"movement"}""",
        ["label.replaced"] = """{"label":"J7K3MQ43","by":"J8P5NR6C","reason":"fell off in the rinse"}""",
        ["scan.made"] = """{"codes":["J7K3MQ43","STC2345A"]}""",
        ["case.closed"] = """{"jobLabel":"J7K3MQ4T","caseSerial":"A 12-34.5","movementNumber":"M 77"}""",
        ["case.opened"] = """{"reason":"hand touches the glass"}""",
        ["seal.seen"] = """{"number":"S-9","state":"never-fitted"}""",
        ["polish.confirmed"] = "{}",
        ["index.touched"] = "{}",
        ["rate-set.recorded"] = """
            {"windState":"one-day","hoursSinceFullWind":24.5,"liftAngleDegrees":52,"vibrationsPerHour":28800,
             "readings":[{"position":"dial-up","ratePerDaySeconds":4.2,"amplitudeDegrees":285,"beatErrorMilliseconds":0.2},
                         {"position":"crown-left","ratePerDaySeconds":-3}],
             "chronographRunning":true,"cased":false,"instrument":"microphone at bench 2","settleSeconds":20,"sampleSeconds":30.5,"recordings":["9f86d081"]}
            """,
        ["trial-day.recorded"] = """{"trial":"spring","day":11,"position":"dial-up","temperatureCelsius":8,"ratePerDaySeconds":6.5}""",
        ["water-test.recorded"] = """{"method":"condensation","pressureBar":-0.7,"holdSeconds":60,"deformationMicrometres":3.25,"passed":false}""",
        ["wear-check.started"] = """
            {"kind":"worn","owed":"PT48H","offsetSeconds":-1,"place":"winder","winderPlace":"W-3","wearer":"people/jon","fullyWound":true,"shownDay":11,
             "chronographRunning":false,"reference":"radio","readBy":"display","stepSeconds":1,"roundTripMilliseconds":12.5}
            """,
        ["wear-check.paused"] = """{"kind":"worn","reason":"weekend"}""",
        ["wear-check.resumed"] = """{"kind":"worn","place":"wrist"}""",
        ["wear-check.confirmed"] = """{"kind":"worn","startedAt":"2026-03-02T09:00:00Z"}""",
        ["wear-check.read"] = """
            {"kind":"worn","interim":false,"offsetSeconds":12,"stopped":false,"shownTime":"11:40","shownDay":13,"dateJumped":true,"handsAligned":true,"mist":false,
             "noise":false,"place":"rest","reference":"server","readBy":"photo","stepSeconds":0.5,"roundTripMilliseconds":80,"midnights":2}
            """,
        ["final-control.passed"] = """{"checks":[{"check":"looks","result":"ok"},{"check":"date","result":"not-applicable"},{"check":"crown","result":"exception","by":"mara"}]}""",
        ["final-control.refused"] = """{"to":"regulation","reason":"gains in crown down","checks":[{"check":"looks","result":"ok"}]}""",
        ["waiver.given"] = """{"gate":"needs/casing","reason":"agreed by telephone"}""",
        ["note.written"] = """{"text":"crown wheel runs dry","audience":"customer"}""",
        ["damage.seen"] = """{"system":"dial-side","part":"dial","condition":"hairline at 4","severity":"must","photos":["2c26b46b"],"asReceived":true}""",
        ["correction.made"] = """{"of":{"source":"/devices/bench-2/1","id":"e-1"},"reason":"the wrong card"}""",
        ["person.corrected"] = """{"source":"/devices/bench-2/1","fromSequence":3,"toSequence":41,"person":"jonas","reason":"the badge lay at the other bench"}""",
        ["device.gap-declared"] = """{"from":13,"to":15}""",
        ["device.heard"] = """{"queueLength":3,"battery":80}""",
        ["person.signed-on"] = "{}",
        ["person.signed-off"] = "{}",
        ["job.taken-in"] = """
            {"variant":"full-automatic","customer":"c-1","watch":"w-1","caseSerial":"A 12-34.5","movementNumber":"M 77",
             "missing":[{"member":"declaredValue","neededFor":"takedown"}],"counted":[{"kind":"links","count":2,"note":"in a bag"}],
             "hazards":["radium-suspected"],"at":"places/desk","fixedDate":"2026-05-01","polish":"yes","warrantyOf":"J7K3MQ43",
             "adopted":{"takenInOn":"2026-01-12","at":"rebuild","promisedOn":"2026-04-17","ownNumber":"A-218","quotedMinor":48000}}
            """,
        ["intake.completed"] = """
            {"known":["declaredValue","terms"],"missing":[{"member":"polishConfirmed","neededFor":"case-work"}],"polish":"yes","fixedDate":"2026-05-01","fixedDateGone":false}
            """,
        ["variant.changed"] = """
            {"variant":"full-automatic","was":"regulation","reason":"216 degrees dial up: the oil is dry","missing":[{"member":"polish","neededFor":"case-work"}],
             "hazards":["radium-suspected"]}
            """,
        ["quote.sent"] = """{"version":2,"lines":[{"text":"full service","amountMinor":48000,"taxMinor":3597}],"currency":"CHF","validThrough":"2026-04-01","workingDays":20}""",
        ["payment.recorded"] = """{"payment":1,"kind":"deposit","amountMinor":20000,"currency":"CHF","how":"card","reference":"R-1042"}""",
        ["account.changed"] = """{"onAccount":true,"reason":"pays at the end of the month"}""",
        ["quote.answered"] = """{"version":2,"accepted":true,"channel":"telephone","witness":"mara"}""",
        ["promise.given"] = """{"on":"2026-01-22","target":"2026-01-16","approvedOn":"2025-12-15","workingDays":20,"beforeOurRecords":true}""",
        ["promise.moved"] = """{"from":"2026-01-22","to":"2026-01-27","target":"2026-01-21","stoppedWorkingDays":3,"reason":"waited-for-you","approvedOn":"2025-12-29","workingDays":20,"by":"person","countsFrom":"2025-12-29","note":"the crown is on its way"}""",
        ["mix-up.suspected"] = """{"seenAt":"J7K3MQ4T","other":"JABCDEFG","differing":["case-serial"]}""",
        ["job.handed-over"] = """{"how":"dispatched","pieces":["movement","case"],"to":"parcel desk","identitySeen":true,"on":"2026-03-14"}""",
        ["delivery.recorded"] = """{"on":"2026-03-18","how":"signature"}""",
        ["claim.reported"] = """{"claim":1,"reportedOn":"2026-01-10","receivedOn":"2026-01-12","text":"stops at night"}""",
        ["claim.decided"] = """{"claim":1,"covered":false,"lines":["movement"],"reason":"stood on a loudspeaker","goodwill":"magnetism-removed"}""",
        ["claim.stay-recorded"] = """{"claim":1,"receivedOn":"2026-01-10","returnedOn":"2026-02-02"}""",
        ["report.settled"] = """{"of":{"source":"/devices/bench-2/1","id":"e-1"},"as":"happened","reason":"what it rested on was reported since"}""",
        ["due.announced"] = """{"kind":"wear-check","ref":"/devices/bench-2/1#e-1","level":"overdue","due":"2026-03-02T09:14:03Z"}""",
        ["job.closed"] = "{}",
        ["back-up.made"] = """{"madeAt":"2026-03-02T02:40:00Z","where":"workshop-20260302T024000Z.db","bytes":7340032}""",
        ["shop.document-saved"] = """{"kind":"calendar","id":"main","version":2}""",
    };
}
