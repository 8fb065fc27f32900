using NodaTime;

namespace Workshop.Service.Trial;

/// <summary>
/// Clocks that are wrong, and clocks that are put right. That Sent-At is the device's own clock is looked at with every request.
/// </summary>
internal static class ClockSituations
{
    private static readonly Duration Year = Duration.FromDays(365);

    public static IReadOnlyList<Situation> All { get; } =
    [
        new("a-year-behind", "Time and Sent-At are what the device's own clock shows, however wrong: from the two the service learns its error.", async play =>
        {
            await play.SetClock(Play.Morning - Year);
            await play.PressAndWake(2);
            await play.EverythingArrived();
        }),
        new("the-clock-of-a-flat-battery", "A clock that begins in the year 2000 is told as it is.", async play =>
        {
            await play.SetClock(Instant.FromUtc(2000, 1, 1, 0, 0));
            await play.PressAndWake(2);
            await play.EverythingArrived();
        }),
        new("set-between-pressing-and-sending", "The time of an event is that of pressing and is never changed; Sent-At is that of sending.", async play =>
        {
            play.Service.Once(Answers.Cut);
            await play.PressAndWake();
            await play.SetClock(Play.Morning - Duration.FromHours(2));
            await play.Press();
            await play.Deliver();
            await play.EverythingArrived();
            play.Expect(play.Service.Kept.Select(one => one.Sequence!.Value).SequenceEqual([1, 2]), "its numbers follow the clock instead of the order of pressing");
        }),
        new("set-back-while-it-waits", "A clock that is set back a year must not make a pause of a year.", async play =>
        {
            play.Service.Once(Answers.Cut, Answers.Cut);
            await play.PressAndWake();
            await play.SitsOutItsPause();
            await play.SetClock(play.Now - Year);
            await play.PassWaking(Play.LongestPause);
            await play.EverythingArrived();
        }),
        new("set-ahead-while-it-waits", "A clock that is set ahead ends the pause; when it is set back, everything goes on.", async play =>
        {
            play.Service.Once(Answers.Cut, Answers.Cut);
            await play.PressAndWake();
            await play.SetClock(play.Now + Year);
            await play.Wake();
            await play.SetClock(play.Now - Year);
            await play.PassWaking(Play.LongestPause);
            await play.EverythingArrived();
        }),
    ];
}
