using System.Net;
using Workshop.Service.Tests.Documents;
using Workshop.Service.Trial.Storefronts;

namespace Workshop.Service.Tests.Trial;

/// <summary>The trial lets a right connector through, and finds each slip where it is.</summary>
public class StorefrontTrialTests
{
    private static readonly string Page = Repository.Read("api-docs", "join-your-storefront.md");

    [Fact]
    public async Task A_connector_without_a_slip_comes_through_every_situation()
    {
        var (failed, told) = await Try(Slip.None, [.. StorefrontSituations.All]);

        Assert.True(failed == 0, told);
        Assert.Contains($"{StorefrontSituations.All.Count} situations: {StorefrontSituations.All.Count} handled, 0 not handled", told, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Slip.NewIdEachTime, "not-now", "another webhook-id")]
    [InlineData(Slip.NewIdEachTime, "our-secret-is-rotated", "several webhook-ids")]
    [InlineData(Slip.ForgetsOnFailure, "a-day-away", "arrived")]
    [InlineData(Slip.ForgetsOnFailure, "the-answer-is-lost", "another webhook-id")]
    [InlineData(Slip.ForgetsOnFailure, "our-secret-is-rotated", "401 was taken for an answer")]
    [InlineData(Slip.TakesFlagsForFailure, "flags-are-no-failure", "sent 2 times")]
    [InlineData(Slip.TakesFlagsForFailure, "an-old-quote-accepted", "sent 2 times")]
    [InlineData(Slip.HidesFlags, "flags-are-no-failure", "nobody in the shop")]
    [InlineData(Slip.AnswersStrangers, "a-stranger-at-the-inbox", "was answered 200")]
    [InlineData(Slip.InboxIgnoresAfter, "the-inbox-page-by-page", "asked after")]
    [InlineData(Slip.CountsTwice, "a-message-twice", "counted")]
    [InlineData(Slip.OlderStateWins, "messages-out-of-order", "at-the-watchmaker of version 7")]
    [InlineData(Slip.TakesAnySignature, "not-from-the-workshop", "another secret was taken")]
    [InlineData(Slip.TakesAnySignature, "the-workshops-secret-is-rotated", "old secret was still taken")]
    [InlineData(Slip.SpeaksAsAnother, "an-order", "it speaks as '/storefront/other'")]
    public async Task Each_slip_is_found_where_it_is(Slip slip, string situation, string why)
    {
        var (failed, told) = await Try(slip, [StorefrontSituations.All.Single(one => one.Name == situation)]);

        Assert.Equal(1, failed);
        Assert.Contains(why, told, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_situation_stands_on_the_page_in_order_with_what_it_asks()
    {
        var rows = Page[Page.IndexOf("## The situations", StringComparison.Ordinal)..].Split('\n').Where(line => line.StartsWith("| `", StringComparison.Ordinal));

        Assert.Equal(StorefrontSituations.All.Select(situation => $"| `{situation.Name}` | {situation.Asks} |"), rows);
    }

    [Theory]
    [InlineData("reset")]
    [InlineData("secrets")]
    [InlineData("tell")]
    [InlineData("wake")]
    public void Every_request_of_the_trial_stands_on_the_page(string request)
    {
        Assert.Contains($"| `POST /trial/{request}` |", Page);
        Assert.Contains($"\"{request}\"", Repository.Read("src", "Workshop.Service", "Trial", "Storefronts", "TriedStorefront.cs"));
    }

    [Fact]
    public void The_example_connector_is_small_enough_to_be_read() =>
        Assert.InRange(Repository.Read("api-docs", "connector.mjs").Split('\n').Length, 50, 150);

    private static async Task<(int Failed, string Told)> Try(Slip slip, StorefrontSituation[] situations)
    {
        await using var small = await SmallShop.Listen(slip);
        using var shop = new TriedStorefront(small.Address, SmallShop.Key);
        await using var told = new StringWriter();
        var failed = await StorefrontTrial.Run(shop, new IPEndPoint(IPAddress.Loopback, 0), situations, told, CancellationToken.None);
        return (failed, told.ToString());
    }
}
