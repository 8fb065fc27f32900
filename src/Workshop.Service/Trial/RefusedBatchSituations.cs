using System.Text.Json;
using Workshop.Service.Http.CloudEvents;

namespace Workshop.Service.Trial;

/// <summary>Too much at once.</summary>
internal static class RefusedBatchSituations
{
    public static IReadOnlyList<Situation> All { get; } =
    [
        new("too-much-at-once", "413: the batch is halved until it passes; everything arrives, in order.", async play =>
        {
            play.Service.Always = Answers.AtMost(25);
            await play.Press(110);
            await play.Deliver();
            await play.EverythingArrived();
        }),
        new("one-that-is-too-large", "413 for a single event: it is set aside, the others arrive, and device.gap-declared says that its number will not come.", async play =>
        {
            play.Service.Always = Answers.TooLargeWith(Play.Note(2));
            await play.Press(3);
            await play.Deliver();
            await play.LiesAside(2);
            play.Expect(play.Kept.SequenceEqual(["note 1", "note 3"]), "the others did not arrive");
            var number = play.Service.Posts.SelectMany(post => post.Events).First(one => Play.NoteOf(one) == Play.Note(2)).Sequence!.Value;
            play.Expect(play.Service.Kept.Any(one => Declares(one, number)), "no device.gap-declared {from, to} names its number");
            await play.SendsNothing(() => play.PassWaking(NodaTime.Duration.FromMinutes(10)), "it sends it again");
        }),
    ];

    private static bool Declares(CloudEvent one, long number)
    {
        using var data = JsonDocument.Parse(one.Data);
        return one.Type == "device.gap-declared" && Number(data.RootElement, "from") <= number && Number(data.RootElement, "to") >= number;
    }

    // As text, like the sequence itself, or as a number.
    private static long? Number(JsonElement data, string member) =>
        !data.TryGetProperty(member, out var value) ? null
        : value.ValueKind == JsonValueKind.String && long.TryParse(value.GetString(), out var text) ? text
        : value.ValueKind == JsonValueKind.Number && value.TryGetInt64(out var number) ? number
        : null;
}
