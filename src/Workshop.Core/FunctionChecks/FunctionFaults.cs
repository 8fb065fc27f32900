using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.FunctionChecks;

/// <summary>What is wrong in a trial of a function alone.</summary>
internal static class FunctionFaults
{
    private const int RemarkAtMost = 2_000;
    private const int TriesAtMost = 1_000;

    public static IEnumerable<Fault> Of(FunctionChecked told)
    {
        if (told.Passed is null != (told.NotFitted == true))
        {
            yield return new Fault("/passed", Phrase.Of("It is right, or it is not, or the watch has no such function."));
        }

        if (told.Trials is { } trials && (trials.Tried is < 1 or > TriesAtMost || trials.Right < 0 || trials.Right > trials.Tried))
        {
            yield return new Fault("/trials", Phrase.Of("Tried 1 to {0} times, and right at most as often.", TriesAtMost));
        }

        foreach (var (member, has) in Members(told.Value ?? new FunctionValue()))
        {
            if (has && !Belongs(member, told.Function))
            {
                yield return new Fault($"/value/{member}", Phrase.Of("{0} has no such figure.", told.Function));
            }
        }

        if (told.Value is { Seconds: < 0 } or { MovedSeconds: < 0 } or { Turns: < 0 })
        {
            yield return new Fault("/value", Phrase.Of("Less than nothing is not read."));
        }

        if (told.Remark is { Length: > RemarkAtMost })
        {
            yield return new Fault("/remark", Phrase.Of("A remark is at most {0} letters.", RemarkAtMost));
        }
    }

    private static IEnumerable<(string Member, bool Has)> Members(FunctionValue value) =>
    [
        ("began", value.Began is not null),
        ("done", value.Done is not null),
        ("seconds", value.Seconds is not null),
        ("movedSeconds", value.MovedSeconds is not null),
        ("minutes", value.Minutes is not null),
        ("graduations", value.Graduations is not null),
        ("turns", value.Turns is not null),
    ];

    private static bool Belongs(string member, WatchFunction function) => member switch
    {
        "began" or "done" => function is WatchFunction.DateInstant or WatchFunction.DateSemiInstant or WatchFunction.DateDragging or WatchFunction.DayAndDate,
        "seconds" or "movedSeconds" => function is WatchFunction.MinuteCounter,
        "minutes" => function is WatchFunction.DayAndDate or WatchFunction.HourCounter,
        "graduations" => function is WatchFunction.ChronographStart or WatchFunction.ChronographReset,
        _ => function is WatchFunction.WindingAndSetting,
    };
}
