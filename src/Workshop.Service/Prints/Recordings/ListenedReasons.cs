using Workshop.Core.Words;

namespace Workshop.Service.Prints.Recordings;

/// <summary>What the codes of a reading say in words.</summary>
internal static class ListenedReasons
{
    /// <summary>A part of a sentence, without a capital and a full stop; null for a code that says nothing to a person.</summary>
    public static Phrase? Of(string code) => code switch
    {
        "amplitude-unlocking-not-found" => Phrase.Of("the unlocking does not stand out"),
        "amplitude-unlocking-may-be-hidden" => Phrase.Of("an unlocking could be hidden in the noise"),
        "amplitude-drop-in-doubt" => Phrase.Of("the begin of the drop is in doubt"),
        "amplitude-tick-and-tock-disagree" or "beat-error-tick-and-tock-disagree" => Phrase.Of("tick and tock disagree"),
        "beat-error-noises-not-found" => Phrase.Of("no noise stands out in the mean beat"),
        "beat-error-two-ways-disagree" => Phrase.Of("two ways to it disagree"),
        "beat-error-drop-faint" => Phrase.Of("the drop is too faint"),
        "rate-from-whole-beats" => Phrase.Of("rate from whole beats: a drifting amplitude moves it"),
        "rate-uncertain" => Phrase.Of("the beats scatter too much"),
        "clock-uncalibrated" => Phrase.Of("the recorder's clock is not calibrated"),
        "too-few-beats" => Phrase.Of("too few beats"),
        "clipped" => Phrase.Of("the recording is clipped"),
        _ => null,
    };
}
