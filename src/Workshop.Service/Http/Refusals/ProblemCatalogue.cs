using System.Collections.Frozen;

namespace Workshop.Service.Http.Refusals;

/// <summary>A kind of problem, as clients may rely on it.</summary>
/// <param name="Code">Stable, in lower case with hyphens; the last part of the problem's <c>type</c>.</param>
/// <param name="Status">The HTTP status it is answered with.</param>
/// <param name="Title">The same for every problem of the kind.</param>
/// <param name="Remedy">What whoever gets it can do.</param>
public sealed record ProblemKind(string Code, int Status, string Title, string Remedy)
{
    /// <summary>The problem's <c>type</c>: an address of this service that tells what the code means.</summary>
    public string Type => $"/problems/{Code}";
}

/// <summary>
/// Every problem the service answers with. What a gate refuses has the gate's family as its code. The page
/// <c>api-docs/errors.md</c> holds the same rows.
/// </summary>
public static class ProblemCatalogue
{
    public static readonly ProblemKind UnreadableJson = new("unreadable-json", 400, "The body is no JSON",
        "Send JSON as UTF-8 in which no name occurs twice within an object.");

    public static readonly ProblemKind LabelUnreadable = new("label-unreadable", 400, "This is no label",
        "Scan or type the label again: eight characters, the last of which checks the others.");

    public static readonly ProblemKind IdempotencyKeyUnreadable = new("idempotency-key-unreadable", 400, "The Idempotency-Key cannot be used",
        "Send 1 to 200 visible characters without blanks, in quotes or bare; a UUID for each new thing is best.");

    public static readonly ProblemKind RequestUnreadable = new("request-unreadable", 400, "The request cannot be read",
        "Look at the request line, the headers and the length of the body.");

    public static readonly ProblemKind KeyNeeded = new("key-needed", 401, "A valid key is needed",
        "Send the header Authorization with 'Bearer' and a key that was given out and has not been revoked; keep what is to be sent until then.");

    public static readonly ProblemKind SignatureRefused = new("signature-refused", 401, "The signature is not that of this message",
        "Compare what 'differs' names: the timestamp of this attempt, the id, the SHA-256 of the body as it came, the secret; then sign the exact bytes and send them again.");

    public static readonly ProblemKind NotForThisRole = new("not-for-this-role", 403, "This key may not do that",
        "Use a device whose role allows it; the answer names the roles.");

    public static readonly ProblemKind SourceNotYours = new("source-not-yours", 403, "The key belongs to another source",
        "Send events under the source that the key was given out for, or pair the device anew.");

    public static readonly ProblemKind SecondFactorWrong = new("second-factor-wrong", 403, "This is not what we know of you",
        "Give the postcode of your address or the last four digits of your telephone number, as the shop has them; triesLeft says how often today.");

    public static readonly ProblemKind NoSuchAddress = new("no-such-address", 404, "There is nothing at this address",
        "Look up the address in /docs.");

    public static readonly ProblemKind NoSuchThing = new("no-such-thing", 404, "There is no such thing",
        "Look for it in its list; what a key may not see is not found either.");

    public static readonly ProblemKind NoSuchPage = new("no-such-page", 404, "There is no such page",
        "Look at the address again, or ask the desk for a new one; a link that was revoked leads nowhere.");

    public static readonly ProblemKind NoSuchPairing = new("no-such-pairing", 404, "No pairing with these digits is open",
        "Look at the digits again; they are good once and for ten minutes. A manager can open another pairing.");

    public static readonly ProblemKind LabelUnknown = new("label-unknown", 404, "This label names nothing here",
        "Look whether it belongs to another house; a blank label is bound by attaching it or by PUT.");

    public static readonly ProblemKind MethodNotAllowed = new("method-not-allowed", 405, "This address does not take that method",
        "The header Allow names the methods it takes.");

    public static readonly ProblemKind NotAcceptable = new("not-acceptable", 406, "It is not given in that form",
        "Ask for application/json.");

    public static readonly ProblemKind TooSlow = new("too-slow", 408, "The request did not arrive in time",
        "Send it again.");

    public static readonly ProblemKind StillRunning = new("still-running", 409, "The same request is still being worked on",
        "Send it again a moment later with the same key; the first answer will then be given.");

    public static readonly ProblemKind EventConflict = new("event-conflict", 409, "This event is known with another content",
        "Set it aside where a person sees it; a new event needs a new id. Sending it again will not help.");

    public static readonly ProblemKind DisputeSettled = new("dispute-settled", 409, "The dispute ended otherwise",
        "Read how it ended; whatever is disputed anew is another dispute.");

    public static readonly ProblemKind ShipmentArrived = new("shipment-arrived", 409, "The parcel has arrived",
        "What arrived is not lost on its way; a piece that is missing is looked for in the house.");

    public static readonly ProblemKind QuoteNotAgreed = new("quote-not-agreed", 409, "This version of the quote is not what is agreed",
        "Name the version that was accepted last, or a supplement that was accepted since.");

    public static readonly ProblemKind QuoteAnswered = new("quote-answered", 409, "This version of the quote was answered otherwise",
        "Read the answer that stands; whoever decides anew gets a new version of the quote.");

    public static readonly ProblemKind AskTheDesk = new("ask-the-desk", 409, "This cannot be done from the page",
        "Call or write to the desk: it knows more than the page says.");

    public static readonly ProblemKind NotHandedOver = new("not-handed-over", 409, "The watch has not been handed over",
        "A claim, its days and what a customer tells of wear come after hand-over; before that, put it right within the job.");

    public static readonly ProblemKind NotDispatched = new("not-dispatched", 409, "The watch was not sent",
        "A delivery belongs to a parcel; a watch that was collected is with its owner from its hand-over on.");

    public static readonly ProblemKind NoCalibre = new("no-calibre", 409, "The shop has no such calibre",
        "Save the calibre first, and name it by its id as the watch's calibre; then its plan has a place.");

    public static readonly ProblemKind LabelBound = new("label-bound", 409, "This label is on something else",
        "Take a new label; one names one thing, and never another one later.");

    public static readonly ProblemKind StillHolds = new("still-holds", 409, "Something is still with them",
        "Have the pieces taken or put, or name in handTo who or what gets them.");

    public static readonly ProblemKind StillNeeded = new("still-needed", 409, "Who this is, is still needed",
        "See to what the answer names in because: hand the watch over, settle the money, decide the claim; a hold is a manager's.");
    public static readonly ProblemKind NotExpected = new("not-expected", 409, "This watch is not waited for",
        "Look at the arrival: it has become a job, or it ended; the answer says which.");

    public static readonly ProblemKind WatchIsHere = new("watch-is-here", 409, "This watch is here already",
        "End the arrival as the same watch, or look at the number again; two watches with one number are two jobs without an arrival.");

    public static readonly ProblemKind StorefrontIsThere = new("storefront-is-there", 409, "There is a storefront of this name",
        "Draw it another secret, or choose another name.");

    public static readonly ProblemKind ChangedMeanwhile = new("changed-meanwhile", 412, "Somebody has changed it meanwhile",
        "Read it again, look at what changed, and send the change with the new ETag.");

    public static readonly ProblemKind TooManyStreams = new("too-many-streams", 503, "Too many callers read along",
        "Read the changes page by page meanwhile, and open the stream again after the time given.");

    public static readonly ProblemKind BodyTooLarge = new("body-too-large", 413, "The body is too large",
        "Send less at once: halve the batch.");

    public static readonly ProblemKind MediaTypeNotTaken = new("media-type-not-taken", 415, "This kind of content is not taken here",
        "Send one of the media types the answer names, as UTF-8 and without a content encoding.");

    public static readonly ProblemKind BadFields = new("bad-fields", 422, "Some fields are not right",
        "Correct what errors[] names; each pointer leads to one field.");

    public static readonly ProblemKind HashDiffers = new("hash-differs", 422, "The bytes are not those of the name",
        "Compute the SHA-256 over the very bytes that are sent, and send them again under that name.");

    public static readonly ProblemKind PhotoUnreadable = new("photo-unreadable", 422, "The picture cannot be read",
        "Look at the file: a whole, still picture is kept, none that ends too early or moves.");

    public static readonly ProblemKind PhotoTooLarge = new("photo-too-large", 422, "The picture has too many pixels",
        "Send a smaller one; the answer names the limit.");

    public static readonly ProblemKind RecordingWaits = new("recording-waits", 409, "The recording was not listened to yet",
        "Look at the recording again in a few seconds, then send the same.");

    public static readonly ProblemKind RecordingNotHeard = new("recording-not-heard", 422, "No rate was heard in a recording",
        "Record the positions that are named anew, closer to the microphone, or leave them out.");

    public static readonly ProblemKind RecordingsDiffer = new("recordings-differ", 422, "These recordings make no set together",
        "Take recordings of one winding, one lift angle and one frequency, one for each position; the answer names what differs.");

    public static readonly ProblemKind ReferenceNotHeard = new("reference-not-heard", 422, "No steady pulses were heard",
        "Record a source that ticks evenly for a minute, such as a pulse each second, and give its intervalSeconds.");

    public static readonly ProblemKind GateIsFixed = new("gate-is-fixed", 422, "This gate is fixed",
        "Leave the gates that are named out: what they keep from happening cannot be undone, so that no rule of a shop changes them.");

    public static readonly ProblemKind ScanSaysNothing = new("scan-says-nothing", 422, "These labels say nothing together",
        "Scan what (watch or piece) and what happens to it, or where; 'line' says what was wrong.");

    public static readonly ProblemKind IdempotencyKeyReused = new("idempotency-key-reused", 422, "This Idempotency-Key was used for something else",
        "Take a new key for each new thing; the same key only for the same request.");

    public static readonly ProblemKind IfMatchNeeded = new("if-match-needed", 428, "Say which state you have seen",
        "Read it first and send its ETag as If-Match.");

    public static readonly ProblemKind TriesUsedUp = new("tries-used-up", 429, "Too many tries were wrong today",
        "Please call the desk, or try again tomorrow: Retry-After says when that begins.");

    public static readonly ProblemKind TooManyRequests = new("too-many-requests", 429, "Too many requests",
        "Wait as long as Retry-After says, then send the same again.");

    public static readonly ProblemKind HeadersTooLarge = new("headers-too-large", 431, "The headers are too large",
        "Send fewer or shorter headers.");

    public static readonly ProblemKind Unexpected = new("unexpected", 500, "Something unexpected happened here",
        "Send the same again later; if it stays, tell the operator the reference.");

    public static readonly ProblemKind StorageBusy = new("storage-busy", 503, "More is waiting to be written than can be taken",
        "Wait as long as Retry-After says, then send the same again: what was already kept is not kept twice.");

    public static readonly ProblemKind StorageUnavailable = new("storage-unavailable", 503, "The storage cannot be reached",
        "Wait as long as Retry-After says, then send the same again: what was already kept is not kept twice.");

    private static readonly ProblemKind[] OfRequests =
    [
        UnreadableJson, LabelUnreadable, IdempotencyKeyUnreadable, RequestUnreadable, KeyNeeded, SignatureRefused, NotForThisRole, SourceNotYours,
        SecondFactorWrong, NoSuchAddress, NoSuchThing, NoSuchPage, NoSuchPairing, LabelUnknown, MethodNotAllowed, NotAcceptable, TooSlow, StillRunning, EventConflict, QuoteAnswered, QuoteNotAgreed, DisputeSettled, ShipmentArrived, AskTheDesk, NotHandedOver, NotDispatched, NoCalibre, LabelBound, StillHolds, NotExpected, WatchIsHere, StorefrontIsThere, StillNeeded, ChangedMeanwhile,
        BodyTooLarge, MediaTypeNotTaken, BadFields, HashDiffers, PhotoUnreadable, PhotoTooLarge, RecordingWaits, RecordingNotHeard, RecordingsDiffer, ReferenceNotHeard, GateIsFixed, ScanSaysNothing, IdempotencyKeyReused, IfMatchNeeded, TriesUsedUp, TooManyRequests, HeadersTooLarge,
        Unexpected, TooManyStreams, StorageBusy, StorageUnavailable,
    ];

    /// <summary>All of them: first what can be wrong with a request, then what gates refuse.</summary>
    public static IReadOnlyList<ProblemKind> All { get; } = [.. OfRequests, .. RecordingProblems.All, .. GateProblems.All];

    private static readonly FrozenDictionary<string, ProblemKind> ByCode = All.ToFrozenDictionary(kind => kind.Code, StringComparer.Ordinal);

    /// <summary>The kind with this code, or null.</summary>
    public static ProblemKind? Find(string code) => ByCode.GetValueOrDefault(code);

    /// <summary>What a status means that the web server itself has given, or null where it is no failure.</summary>
    public static ProblemKind? OfStatus(int status) => status switch
    {
        400 => RequestUnreadable,
        401 => KeyNeeded,
        403 => NotForThisRole,
        404 => NoSuchAddress,
        405 => MethodNotAllowed,
        406 => NotAcceptable,
        408 => TooSlow,
        413 => BodyTooLarge,
        415 => MediaTypeNotTaken,
        429 => TooManyRequests,
        431 => HeadersTooLarge,
        >= 400 and < 500 => RequestUnreadable,
        >= 500 => Unexpected,
        _ => null,
    };
}
