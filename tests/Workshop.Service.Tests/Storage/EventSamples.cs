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
        ["piece.given"] = """{"expectedBack":"2026-04-01","note":"LS-204","insuredMinor":240000,"currency":"CHF","piece":"PABCDEFG","kind":"dial-and-hands","from":"people/mara","to":"firms/dial-printer"}""",
        ["piece.taken"] = """{"count":1,"piece":"movement","kind":"movement","from":"trays/7","to":"benches/bench-2"}""",
        ["piece.put"] = """{"handsOff":true,"count":1,"piece":"movement","kind":"movement","from":"benches/bench-2","to":"places/safe"}""",
        ["part.reserved"] = """{"essential":true,"part":"stem-41","count":1,"order":"po-1"}""",
        ["part.received"] = """{"lot":"L-7","fits":true,"part":"stem-41","count":2,"order":"po-1"}""",
        ["part.checked"] = """{"fits":false,"part":"stem-41","count":1,"order":"po-1"}""",
        ["part.fitted"] = """{"lot":"L-7","replaces":"bent stem","group":"keyless","part":"stem-41","count":1,"order":"po-1"}""",
        ["part.released"] = """{"reason":"fitted in another watch","takenBy":"J8P5NR6C","expectedOn":"2026-03-16","essential":true,"part":"stem-41","count":1,"order":"po-1"}""",
        ["label.attached"] = """{"label":"P4TW7KAQ","piece":"movement"}""",
        ["label.replaced"] = """{"label":"J7K3MQ43","by":"J8P5NR6C","reason":"fell off in the rinse"}""",
        ["scan.made"] = """{"codes":["J7K3MQ43","STC2345A"]}""",
        ["case.closed"] = """{"jobLabel":"J7K3MQ4T","caseSerial":"A 12-34.5","movementNumber":"M 77"}""",
        ["case.opened"] = """{"reason":"hand touches the glass"}""",
        ["seal.seen"] = """{"number":"S-9","state":"never-fitted"}""",
        ["polish.confirmed"] = "{}",
        ["takedown.step"] = """
            {"text":"pallets out","part":"pallets","screws":[{"place":"pallet bridge","count":2,"head":"flush","finish":"polished","lengthMillimetres":1.4},{"place":"cock","count":1}],
             "needs":["let-down"],"keptWith":{"member":"shim","group":"train"},"step":4.5,"system":"escapement","caution":"spring-tension",
             "photos":["2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae"],"holder":"4","tray":"12"}
            """,
        ["takedown.let-down"] = """
            {"text":"by the click","step":3,"system":"power-and-train","caution":"fragile","photos":["2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae"],"holder":"4","tray":"12"}
            """,
        ["finding.recorded"] = """
            {"system":"power-and-train","part":"barrel","condition":"wall scored","severity":"must","photos":["2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae"],"asReceived":true}
            """,
        ["inspection.recorded"] = """{"system":"keyless","part":"setting-lever","result":"rework","note":"nib stoned"}""",
        ["index.touched"] = "{}",
        ["rate-set.recorded"] = """
            {"windState":"one-day","hoursSinceFullWind":24.5,"liftAngleDegrees":52,"vibrationsPerHour":28800,
             "readings":[{"position":"dial-up","ratePerDaySeconds":4.2,"amplitudeDegrees":285,"beatErrorMilliseconds":0.2},
                         {"position":"crown-left","ratePerDaySeconds":-3,"toldPosition":"6H"}],
             "chronographRunning":true,"cased":false,"instrument":"microphone at bench 2","settleSeconds":20,"sampleSeconds":30.5,"recordings":["9f86d081"]}
            """,
        ["lift-angle.corrected"] = """{"of":{"source":"/devices/bench-2/1","id":"e-7"},"liftAngleDegrees":50.5,"reason":"by the maker's sheet"}""",
        ["tolerance.excepted"] = """{"criterion":"spread-full","reason":"worn pivots; the customer knows"}""",
        ["trial-day.recorded"] = """{"trial":"spring","day":11,"position":"crown-left","temperatureCelsius":8,"ratePerDaySeconds":6.5,"toldPosition":"6H"}""",
        ["water-test.recorded"] = """{"method":"condensation","pressureBar":-0.7,"holdSeconds":60,"deformationMicrometres":3.25,"passed":false,"device":"tester 1","programme":"warm and drop","emptyCase":false,"watchAtRoomMinutes":35,"ratingBar":5,"warmCelsius":42,"warmMinutes":15,"dropMinutes":1}""",
        ["wear-check.started"] = """
            {"kind":"worn","owed":"PT48H","offsetSeconds":-1,"place":"winder","winderPlace":"W-3","wearer":"people/jon","fullyWound":true,"shownDay":11,
             "chronographRunning":false,"reference":"radio","readBy":"display","stepSeconds":1,"roundTripMilliseconds":12.5}
            """,
        ["wear-check.paused"] = """{"kind":"worn","reason":"weekend"}""",
        ["wear-check.resumed"] = """{"kind":"worn","place":"wrist"}""",
        ["wear-check.confirmed"] = """{"kind":"worn","startedAt":"2026-03-02T09:00:00Z"}""",
        ["wear-check.read"] = """
            {"kind":"worn","interim":false,"offsetSeconds":12,"stopped":false,"shownTime":"11:40","shownDay":13,"dateJumped":true,"handsAligned":true,"mist":false,
             "noise":false,"place":"rest","reference":"server","readBy":"photo","stepSeconds":0.5,"roundTripMilliseconds":80,"midnights":2,"resets":{"tried":10,"right":10}}
            """,
        ["function-check.recorded"] = """{"function":"chronograph-reset","passed":false,"notFitted":false,"value":{"graduations":0.5},"trials":{"tried":10,"right":9},"remark":"stands right of zero"}""",
        ["reserve-test.started"] = """{"fullyWound":true,"chronographRunning":false,"offsetSeconds":2,"shownDay":11,"hours":42}""",
        ["reserve-test.read"] = """{"running":false,"stopped":true,"shownTime":"03:24","toTheSecond":false,"shownDay":13,"stoppedAt":"2026-03-13T02:24:00Z"}""",
        ["stop.explained"] = """{"of":{"source":"/devices/bench-2/1","id":"e-41"},"cause":"calendar","remark":"date finger bent"}""",
        ["final-control.passed"] = """{"checks":[{"check":"looks","result":"ok"},{"check":"date","result":"not-applicable"},{"check":"crown","result":"exception","by":"mara"}]}""",
        ["final-control.refused"] = """{"to":"regulation","reason":"gains in crown down","checks":[{"check":"looks","result":"ok"}]}""",
        ["group.declared"] = """{"group":"train","members":["centre wheel","shim of the barrel bridge"],"count":9,"flags":["wheels","barrel"]}""",
        ["group.hand-cleaned"] = """{"group":"pallets-and-settings"}""",
        ["group.not-washed"] = """{"group":"calendar","reason":"not-fitted"}""",
        ["group.replaced"] = """{"group":"train","part":"mainspring"}""",
        ["group.reopened"] = """{"group":"bridges","reason":"film on the train bridge"}""",
        ["group.inspected"] = """{"group":"bridges"}""",
        ["count.recorded"] = """{"group":"train","at":"inspection","count":9}""",
        ["part.lost"] = """{"part":"click spring","group":"train","system":"power-and-train","condition":"flew off when the ratchet wheel was lifted"}""",
        ["part.found"] = """{"part":"click spring","group":"train"}""",
        ["cage.loaded"] = """{"cage":"cage-07","group":"train","run":"5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10","count":9}""",
        ["cage.emptied"] = """{"cage":"cage-07","group":"train","run":"5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10","count":9}""",
        ["run.started"] = """{"machine":"machine-1","programme":"gentle"}""",
        ["run.finished"] = "{}",
        ["run.aborted"] = """{"reason":"power cut"}""",
        ["fluid.filled"] = """{"batch":"m1-clean-12","jar":"clean","fluid":"ammoniated","lot":"L-2209","litres":1.2}""",
        ["fluid.moved"] = """{"batch":"m1-rinse-2-4","fromJar":"rinse-2","toJar":"rinse-1"}""",
        ["fluid.discarded"] = """{"batch":"m1-clean-11","jar":"clean","litres":1.1,"reason":"rust"}""",
        ["machine.stopped"] = """{"reason":"smells of smoke"}""",
        ["waiver.given"] = """{"gate":"needs/casing","reason":"agreed by telephone"}""",
        ["note.written"] = """{"text":"crown wheel runs dry","audience":"customer"}""",
        ["damage.seen"] = """{"system":"dial-side","part":"dial","condition":"hairline at 4","severity":"must","photos":["2c26b46b"],"asReceived":true}""",
        ["correction.made"] = """{"of":{"source":"/devices/bench-2/1","id":"e-1"},"reason":"the wrong card"}""",
        ["person.corrected"] = """{"source":"/devices/bench-2/1","fromSequence":3,"toSequence":41,"person":"jonas","reason":"the badge lay at the other bench"}""",
        ["device.gap-declared"] = """{"from":13,"to":15}""",
        ["device.heard"] = """{"queueLength":3,"battery":80}""",
        ["safe.counted"] = """{"pieces":["J7K3MQ4T","J8P5NR6C/case"],"missing":["J8P5NR6C/movement"]}""",
        ["control-chart.restarted"] = """{"bench":"bench-2","instrument":"acoustic-1","reason":"its microphone was exchanged"}""",
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
        ["parties.changed"] = """{"owner":"019cadc6-9a80-79ab-9a5c-e1f8539f6f8e","broughtBy":"019cadc6-9a80-79ab-9a5c-e1f8539f6f8f","payer":"019cadc6-9a80-79ab-9a5c-e1f8539f6f8f","recipient":"019cadc6-9a80-79ab-9a5c-e1f8539f6f8e","decides":"019cadc6-9a80-79ab-9a5c-e1f8539f6f8f","told":["019cadc6-9a80-79ab-9a5c-e1f8539f6f8f"],"notBefore":"2026-05-10"}""",
        ["party.standing-told"] = """{"customer":"019cadc6-9a80-79ab-9a5c-e1f8539f6f8e","deceased":true,"unreachable":["email"]}""",
        ["quote.sent"] = """
            {"version":2,"lines":[{"text":"full service","amountMinor":48000,"taxMinor":3597,"id":"service","kind":"work","optional":false,"recommended":false,"taxRate":8.1}],"currency":"CHF","validThrough":"2026-04-01",
             "workingDays":20,"depositMinor":15000,"depositSharePercent":50,"depositAboveMinor":40000,"feeOnRefusalMinor":4000,"choicesOnRefusal":["return","ask-me"],"supplementary":false,"notCovered":["the strap"],
             "consentText":{"en":"I accept.","de":"Ich nehme an."}}
            """,
        ["payment.recorded"] = """{"payment":1,"kind":"deposit","amountMinor":20000,"currency":"CHF","how":"card","reference":"R-1042"}""",
        ["payment.corrected"] = """{"payment":1,"reason":"typed a nought too many"}""",
        ["account.changed"] = """{"onAccount":true,"reason":"pays at the end of the month","askedMinor":12000,"currency":"CHF"}""",
        ["quote.price-changed"] = """{"version":2,"line":"mainspring","acceptedMinor":4000,"newAmountMinor":4600,"borne":false,"reason":"the maker raised the price"}""",
        ["quote.answered"] = """
            {"version":2,"accepted":true,"channel":"telephone","witness":"mara","options":[{"option":"polish","accepted":true}],"ifRefused":"return","consentText":"I accept.","answeredBy":"c-1","address":"192.0.2.7"}
            """,
        ["promise.given"] = """{"on":"2026-01-22","target":"2026-01-16","approvedOn":"2025-12-15","workingDays":20,"beforeOurRecords":true}""",
        ["promise.moved"] = """{"from":"2026-01-22","to":"2026-01-27","target":"2026-01-21","stoppedWorkingDays":3,"reason":"waited-for-you","approvedOn":"2025-12-29","workingDays":20,"by":"person","countsFrom":"2025-12-29","note":"the crown is on its way"}""",
        ["group.washed"] = """{"group":"train","run":"5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10","cage":"cage-07","machine":"machine-1","programme":"gentle","batches":["m1-clean-12"]}""",
        ["group.unknown"] = """{"group":"train","run":"5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10","cage":"cage-07","reason":"power cut"}""",
        ["loss.reported"] = """{"group":"train","at":"unloaded","expected":9,"counted":8,"seenAt":"loaded","seenBy":"jonas","seenOn":"2026-03-02T10:14:03Z","seenBench":"bench-2","candidates":[{"job":"J7K3MQ43","near":"same-run","where":"5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10"}]}""",
        ["count.differs"] = """{"group":"screws","at":"inspection","expected":12,"counted":13,"seenAt":"declared","seenBy":"mara","seenOn":"2026-03-02T09:00:00Z","seenBench":"bench-1","candidates":[{"job":"J7K3MQ43","near":"same-bench","where":"bench-1"}]}""",
        ["run.planned"] = "{}",
        ["run.loaded"] = """{"job":"J7K3MQ43","group":"train","cage":"cage-07","load":{"source":"/devices/bench-2/1","id":"e-1"},"count":9,"doubted":true}""",
        ["run.unloaded"] = """{"job":"J7K3MQ43","group":"train","cage":"cage-07","load":{"source":"/devices/bench-2/1","id":"e-1"},"count":9,"withdrawn":true}""",
        ["fluid.used"] = """{"run":"5f0c5c1e-0b1e-4f7e-9a53-6f0a7a1c2d10","countsAs":3,"batches":[{"jar":"clean","batch":"m1-clean-12"}],"overridden":["m1-clean-12"]}""",
        ["mix-up.suspected"] = """{"seenAt":"J7K3MQ4T","other":"JABCDEFG","differing":["case-serial"]}""",
        ["job.handed-over"] = """{"how":"dispatched","pieces":["movement","case"],"to":"parcel desk","identitySeen":true,"on":"2026-03-14"}""",
        ["delivery.recorded"] = """{"on":"2026-03-18","how":"signature"}""",
        ["wear.reported"] = """{"report":1,"reportedOn":"2026-01-10","amount":2,"unit":"minutes","direction":"gains","overDays":7,"stopped":false,"dateRight":true,"wornByNight":false,"nightPosition":"dial-up","sport":false,"nearMagnets":true,"channel":"telephone","text":"two minutes fast after a week"}""",
        ["wear-report.answered"] = """{"report":1,"answer":"invited","note":"comes on Tuesday"}""",
        ["claim.reported"] = """{"claim":1,"reportedOn":"2026-01-10","receivedOn":"2026-01-12","text":"stops at night","photos":["2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae"]}""",
        ["claim.decided"] = """{"claim":1,"covered":false,"lines":["movement"],"reason":"stood on a loudspeaker","goodwill":"magnetism-removed","because":["/desk/1#a"],"inDoubt":true,"system":"escapement","comeback":"repeat"}""",
        ["claim.stay-recorded"] = """{"claim":1,"receivedOn":"2026-01-10","returnedOn":"2026-02-02","job":"J7K3MQ43"}""",
        ["dispute.opened"] = """{"dispute":1,"claim":1,"text":"it never fell","photos":["2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae"]}""",
        ["dispute.closed"] = """{"dispute":1,"outcome":"customer-was-right","reason":"the seal was whole","because":["/desk/1#a"],"toldOn":"2026-02-03"}""",
        ["shipment.sent"] = """{"shipment":"s-1","direction":"out","pieces":["movement"],"with":["J7K3MQ43"],"carrier":"post","number":"99.60.117","insuredMinor":300000,"carrierInsuresMinor":500000,"declaredMinor":240000,"currency":"CHF"}""",
        ["shipment.delivered"] = """{"shipment":"s-1","on":"2026-03-12"}""",
        ["shipment.lost"] = """{"shipment":"s-1","reason":"the carrier has given it up"}""",
        ["report.settled"] = """{"of":{"source":"/devices/bench-2/1","id":"e-1"},"as":"happened","reason":"what it rested on was reported since"}""",
        ["part.expected"] = """{"expectedOn":"2026-03-16","was":"2026-03-10","essential":true,"part":"stem-41","count":1,"order":"po-1"}""",
        ["safe.compared"] = """{"counted":2,"missing":["J8P5NR6C/movement"],"elsewhere":["J7K3MQ4T"]}""",
        ["stock.saved"] = """{"kind":"part-order","id":"po-1","version":2}""",
        ["clock.stepped"] = """{"bySeconds":7.5}""",
        ["due.announced"] = """{"kind":"wear-check","ref":"/devices/bench-2/1#e-1","level":"overdue","due":"2026-03-02T09:14:03Z"}""",
        ["customer.erased"] = """{"customer":"0198c0de0000700080000000000000a1","entries":3,"afterItsTime":true}""",
        ["job.closed"] = "{}",
        ["back-up.made"] = """{"madeAt":"2026-03-02T02:40:00Z","where":"workshop-20260302T024000Z.db","bytes":7340032}""",
        ["shop.document-saved"] = """{"kind":"calendar","id":"main","version":2}""",
    };
}
