namespace Workshop.Service.Http.Answers;
public sealed class Once { public const string KeyHeader = "Idempotency-Key"; }
public sealed record TakesIdempotencyKey;
