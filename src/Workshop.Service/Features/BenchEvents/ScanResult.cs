using System.Collections.Immutable;
using System.Text.Json.Nodes;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>The event that a scan has made; an entry of its own, with the scan as its cause.</summary>
/// <param name="Type">For example <c>piece.taken</c>.</param>
/// <param name="Source">The scanner's own source.</param>
/// <param name="Id">Made from the scan's id, so that the same scan finds it again.</param>
/// <param name="Subject">The label it was said under.</param>
public sealed record DidEvent(string Type, string Source, string Id, string? Subject);

/// <summary>What is to be asked before anything is done.</summary>
/// <param name="Line">At most 60 characters.</param>
/// <param name="Choices">At most three; none where another scan has to answer.</param>
public sealed record ScanQuestion(string Line, ImmutableArray<ScanAnswer> Choices);

/// <summary>One answer to choose.</summary>
/// <param name="Say">What to show on its button.</param>
/// <param name="Event">The event to post as it is; its id is made from the scan's, so that a double tap is one event.</param>
/// <param name="Fill">JSON Pointers to members to be filled in first; empty where nothing is missing.</param>
public sealed record ScanAnswer(string Say, JsonObject Event, ImmutableArray<string> Fill);
