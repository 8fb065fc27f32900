using NodaTime;
using Workshop.Core.Outgoing;

namespace Workshop.Service.Trial.Storefronts;

/// <summary>What happens between a storefront and a workshop over the years.</summary>
internal static class StorefrontSituations
{
    private const int OrdersOfADay = 30;

    /// <summary>All of them, in the order in which they are played.</summary>
    public static IReadOnlyList<StorefrontSituation> All { get; } =
    [
        new("an-order", "An order is posted as one event, signed over its exact bytes, under its own source; then it waits no longer.", async play =>
        {
            await play.Order();
            await play.Shop.Wake();
            play.Expect(play.Service.Posts.Count == 1, $"{play.Service.Posts.Count} posts came instead of one");
            play.Expect(play.Service.Posts[0].Genuine, play.Service.Posts[0].Verdict.Sentence);
            play.Expect(play.Service.Posts[0].Events.Count() == 1, "the body is no event that can be read");
            await play.EverythingArrived();
        }),
        new("not-now", "503: it waits and is sent again with the same webhook-id and the same bytes.", play => SentAgain(play, PostAnswer.NotNow)),
        new("the-answer-is-lost", "It was kept and the answer never came: it is sent again with the same webhook-id and the same bytes.", play => SentAgain(play, PostAnswer.AnswerLost)),
        new("each-attempt-has-its-time", "The timestamp is that of the attempt, not that of the event: a day later it is still taken.", async play =>
        {
            play.Service.Once(PostAnswer.NotNow);
            await play.Order();
            await play.Shop.Wake();
            await Task.Delay(TimeSpan.FromSeconds(1.1));
            await play.Shop.Wake();
            play.Expect(play.Service.Posts.Count == 2, $"{play.Service.Posts.Count} posts came instead of two");
            play.Expect(play.Service.Posts[0].Timestamp != play.Service.Posts[1].Timestamp, "both attempts carry the same timestamp");
            await play.EverythingArrived();
        }),
        new("flags-are-no-failure", "202 with flags: it was kept, is never sent again, and the flag lies where a person sees it.", async play =>
        {
            play.Service.Flag = _ => "unknown-product";
            await play.Order();
            await play.Shop.Wake();
            await play.Shop.Wake();
            play.Expect(play.Service.Posts.Count == 1, $"it was sent {play.Service.Posts.Count} times");
            play.Expect((await play.Shop.State()).Attention.Any(one => one.Contains("unknown-product", StringComparison.Ordinal)), "nobody in the shop sees the flag");
            await play.EverythingArrived();
        }),
        new("a-day-away", "The workshop is away for a day: what happens meanwhile waits, and arrives afterwards once each, in order.", async play =>
        {
            play.Service.Always = PostAnswer.NotNow;
            for (var i = 0; i < OrdersOfADay; i++)
            {
                await play.Order();
                await play.Shop.Wake();
            }

            play.Service.Always = PostAnswer.Taken;
            await play.Shop.Wake();
            await play.EverythingArrived();
        }),
        new("our-secret-is-rotated", "What waits is signed with the new secret, under the id it had.", async play =>
        {
            play.Service.Once(PostAnswer.NotNow);
            await play.Order();
            await play.Shop.Wake();
            play.Service.Secret = WebhookSecret.Draw();
            await play.Shop.Wake();
            play.Expect(play.Service.Kept.Count == 0 && (await play.Shop.State()).Waiting.Length == 1, "401 was taken for an answer: the order is lost");
            await play.Shop.Secrets(secret: play.Service.Secret.Written);
            await play.Shop.Wake();
            play.Expect(play.Service.Posts.Select(post => post.Id).Distinct().Count() == 1, "the same event was sent under several webhook-ids");
            await play.EverythingArrived();
        }),
        new("the-inbox-says-the-same", "The inbox holds what was posted, under the same ids, with rising sequences; asked again, it says the same again.", async play =>
        {
            await play.Order(5);
            await play.Shop.Wake();
            var all = await play.Page(0, 100);
            var again = await play.Page(0, 100);
            play.Expect(all.Select(one => one.Id).SequenceEqual(play.Service.Kept.Select(one => one.Id)), "the inbox holds other events than were posted");
            play.Expect(all.Zip(again).All(pair => pair.First.Digest.SequenceEqual(pair.Second.Digest)) && all.Length == again.Length, "asked again, the inbox says something else");
            play.Expect(all.All(one => one.Sequence > 0) && all.Zip(all.Skip(1)).All(pair => pair.First.Sequence < pair.Second.Sequence), "the sequences do not rise from one event to the next");
        }),
        new("the-inbox-page-by-page", "Never more than limit, never one that was asked after, and behind the last a signed empty batch.", async play =>
        {
            await play.Order(5);
            long after = 0;
            var read = new List<string>();
            for (var pages = 0; pages < 6; pages++)
            {
                var page = await play.Page(after, 2);
                play.Expect(page.Length <= 2, $"{page.Length} events came where 2 were asked for");
                play.Expect(page.All(one => one.Sequence > after), "an event came again that was asked after");
                read.AddRange(page.Select(one => one.Id));
                after = page.Length == 0 ? after : page[^1].Sequence!.Value;
            }

            play.Expect(read.Distinct().Count() == 5 && read.Count == 5, $"{read.Count} events were read where 5 were told");
        }),
        new("a-stranger-at-the-inbox", "A question that is not signed with the secret is told nothing.", async play =>
        {
            await play.Order();
            var (status, bytes, _) = await play.Inbox("after=0&limit=100", WebhookSecret.Draw());
            play.Expect(status is 401 or 403 && bytes.Length < 1_000, $"a stranger was answered {status} with {bytes.Length} bytes");
        }),
        new("a-message-twice", "A message that comes again under its webhook-id is answered 2xx and counts once.", async play =>
        {
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("being-examined", 3), "msg_twice");
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("being-examined", 3), "msg_twice");
            play.Expect((await play.Shop.State()).Heard == 1, "the repetition was counted");
        }),
        new("messages-out-of-order", "An older state never takes the place of a newer one.", async play =>
        {
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("being-tested", 9));
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("at-the-watchmaker", 7));
            var watch = (await play.Shop.State()).Watches.GetValueOrDefault(StorefrontPlay.Job);
            play.Expect(watch is { Version: 9, Stage: "being-tested" }, $"it shows {watch?.Stage ?? "nothing"} of version {watch?.Version}");
        }),
        new("not-from-the-workshop", "Another secret, a changed body, an old timestamp: refused, and nothing comes of it.", async play =>
        {
            var stage = StorefrontPlay.Stage("ready", 5);
            play.Expect(await play.Message("job.stage-changed", stage, by: WebhookSecret.Draw()) is >= 400 and < 500, "a message under another secret was taken");
            play.Expect(await play.Message("job.stage-changed", stage, sent: "{}") is >= 400 and < 500, "a changed body was taken");
            play.Expect(await play.Message("job.stage-changed", stage, at: SystemClock.Instance.GetCurrentInstant() - Duration.FromMinutes(6)) is >= 400 and < 500, "a message of six minutes ago was taken");
            play.Expect((await play.Shop.State()) is { Heard: 0, Watches.Count: 0 }, "what was refused had an effect");
        }),
        new("the-workshops-secret-is-rotated", "Signed with the old and the new one it is taken; once the old one is put away, only the new one counts.", async play =>
        {
            var next = WebhookSecret.Draw();
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("received", 1), by: [play.Hook, next]);
            await play.Shop.Secrets(hookSecrets: [play.Hook.Written, next.Written]);
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("being-examined", 2), by: [next]);
            await play.Shop.Secrets(hookSecrets: [next.Written]);
            play.Expect(await play.Message("job.stage-changed", StorefrontPlay.Stage("ready", 3), by: play.Hook) is >= 400 and < 500, "the old secret was still taken");
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("approved", 4), by: [next]);
        }),
        new("a-type-nobody-knows", "Messages grow: a type and members of a later version are answered 2xx and do no harm.", async play =>
        {
            await Takes(play, "watch.sang", new { job = StorefrontPlay.Job, version = 2, tune = "unknown" });
            await Takes(play, "job.stage-changed", StorefrontPlay.Stage("received", 3));
            play.Expect((await play.Shop.State()).Watches.GetValueOrDefault(StorefrontPlay.Job) is { Stage: "received" }, "the next message was not taken");
        }),
        new("an-old-quote-accepted", "The customer accepts version 1 when 2 is out: told as it was, flagged once, and version 2 is what the shop shows.", async play =>
        {
            await Takes(play, "quote.issued", new { job = StorefrontPlay.Job, version = 4, quote = 1 });
            await Takes(play, "quote.issued", new { job = StorefrontPlay.Job, version = 6, quote = 2 });
            play.Service.Flag = one => one.Type == "quote.answered" ? "old-quote" : null;
            await play.Shop.Tell("quote.answered", new { job = StorefrontPlay.Job, quote = 1, accepted = true, options = Array.Empty<object>(), consentText = "I agree." });
            await play.Shop.Wake();
            await play.Shop.Wake();
            var state = await play.Shop.State();
            play.Expect(play.Service.Posts.Count == 1 && state.Waiting.IsEmpty, $"the answer was sent {play.Service.Posts.Count} times");
            play.Expect(state.Attention.Any(one => one.Contains("old-quote", StringComparison.Ordinal)), "nobody in the shop sees that it was the old one");
            play.Expect(state.Watches.GetValueOrDefault(StorefrontPlay.Job) is { Quote: 2 }, "the shop does not show version 2");
        }),
    ];

    private static async Task SentAgain(StorefrontPlay play, PostAnswer first)
    {
        play.Service.Once(first);
        await play.Order(2);
        await play.Shop.Wake();
        await play.Shop.Wake();
        var posts = play.Service.Posts;
        play.Expect(posts.Count >= 2, "it was not sent again");
        play.Expect(posts[0].Id == posts[1].Id && posts[0].Bytes.AsSpan().SequenceEqual(posts[1].Bytes), "the second attempt has another webhook-id or other bytes than the first");
        await play.EverythingArrived();
    }

    private static async Task Takes(StorefrontPlay play, string type, object data, string? id = null, WebhookSecret[]? by = null)
    {
        var status = await play.Message(type, data, id, by: by ?? []);
        play.Expect(status is >= 200 and < 300, $"{type} was answered {status}");
    }
}
