using Workshop.Core.Words;
using Workshop.Service.Features.People;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>An event as it was said: its envelope, and its data where there is an envelope to read them by.</summary>
/// <param name="Language">In which its sender wants to be answered.</param>
internal sealed record SaidEvent(CloudEventRead Envelope, DataReading? Data, Language Language)
{
    /// <summary>The number that was told with it, compared before the turn; null where none was, or none that anybody has.</summary>
    public ToldProof? Proof { get; init; }

    /// <summary>The scan that means it.</summary>
    public EventId? CausedBy { get; init; }

    public static SaidEvent Of(CloudEventRead envelope, Language language = Language.English) =>
        new(envelope, envelope.Event is { } one ? EventCodec.Read(one.Type, one.Data) : null, language);
}
