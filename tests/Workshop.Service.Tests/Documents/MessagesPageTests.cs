using System.Text.RegularExpressions;
using Workshop.Core.Outgoing;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Settings;

namespace Workshop.Service.Tests.Documents;

/// <summary>The page of messages names every type there is and none besides, and the figures it gives are the program's.</summary>
public partial class MessagesPageTests
{
    private static readonly string Page = Repository.Read("api-docs", "messages.md");

    [Fact]
    public void Every_type_has_its_row_and_every_row_its_type()
    {
        var told = Row().Matches(Page).SelectMany(row => Type().Matches(row.Groups["types"].Value)).Select(type => type.Groups["type"].Value);

        Assert.Equal(MessageTypes.All.Append(MessageTypes.Test).Order(StringComparer.Ordinal), told.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void The_plan_and_the_settings_it_speaks_of_are_the_programs()
    {
        var plan = string.Join(", ", RetryPlan.Delays.SkipLast(1).Select(Said)) + " and " + Said(RetryPlan.Delays[^1]);

        Assert.Contains(plan, Page, StringComparison.Ordinal);
        Assert.Contains("within 20 s", Page, StringComparison.Ordinal);
        Assert.Equal("PT20S", KnownSettings.WebhooksTimeout.Default);
        Assert.Contains(KnownSettings.WebhooksAllowPrivateTargets.Name, Page, StringComparison.Ordinal);
    }

    private static string Said(NodaTime.Duration delay) =>
        delay.TotalMinutes < 1 ? $"{delay.TotalSeconds} s" : delay.TotalHours < 1 ? $"{delay.TotalMinutes} min" : $"{delay.TotalHours} h";

    [GeneratedRegex(@"^\| (?<types>`[a-z.`,\- ]+`) \|", RegexOptions.Multiline)]
    private static partial Regex Row();

    [GeneratedRegex("`(?<type>[a-z.-]+)`")]
    private static partial Regex Type();
}
