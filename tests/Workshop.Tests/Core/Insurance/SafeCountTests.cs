using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.House;
using Workshop.Core.Insurance;
using Workshop.Core.Journal;
using Workshop.Core.Shop;

namespace Workshop.Tests.Core.Insurance;

public class SafeCountTests
{
    private static readonly ImmutableArray<SafePiece> Should = [new("J1", "movement"), new("J1", "case"), new("J2", "case")];

    [Fact]
    public void A_whole_watch_counted_is_all_of_it_that_is_said_to_lie_there()
    {
        var compared = SafeCount.Compare(Should, [("J1", null), ("J2", "case")], []);

        Assert.Equal((3, 0, 0), (compared.Counted, compared.Missing.Length, compared.Elsewhere.Length));
    }

    [Fact]
    public void What_was_not_counted_is_missing_and_what_is_said_to_be_elsewhere_is_named()
    {
        var compared = SafeCount.Compare(Should, [("J1", "case"), ("J3", "movement")], []);

        Assert.Equal(2, compared.Counted);
        Assert.Equal(["J1/movement", "J2/case"], compared.Missing.AsEnumerable());
        Assert.Equal(["J3/movement"], compared.Elsewhere.AsEnumerable());
    }

    [Fact]
    public void What_the_person_missed_is_missing_whatever_is_said_of_it()
    {
        var compared = SafeCount.Compare(Should, [("J1", null), ("J2", null)], [("J1", "case"), ("J9", "movement")]);

        Assert.Equal(["J1/case", "J9/movement"], compared.Missing.AsEnumerable());
    }

    // Monday to Friday until six; half an hour before that where the shop has set no hour.
    [Fact]
    public void Counting_the_safe_is_due_before_closing_from_the_first_count_on()
    {
        var friday = TestShop.Local(2026, 3, 6, 10);
        Assert.DoesNotContain(Rows(new House(), friday, TestShop.Rules), row => row.Kind == AgendaKind.EveningList);

        var counted = Counted(TestShop.Local(2026, 3, 5, 17));
        Assert.Equal(("2026-03-06", TestShop.Local(2026, 3, 6, 17, 30)), Due(counted, friday, TestShop.Rules));

        // What was counted on Friday is counted again on Monday; a day that was missed does not stay.
        Assert.Equal(("2026-03-09", TestShop.Local(2026, 3, 9, 17, 30)), Due(Counted(friday), friday, TestShop.Rules));
        Assert.Equal(("2026-03-09", TestShop.Local(2026, 3, 9, 17, 30)), Due(counted, TestShop.Local(2026, 3, 7, 10), TestShop.Rules));
    }

    [Fact]
    public void A_shop_sets_its_own_hour_which_is_never_after_closing()
    {
        var rules = TestShop.Rules with { Insurance = new InsuranceRules { EveningListAt = new LocalTime(17, 0) } };
        var friday = TestShop.Local(2026, 3, 6, 10);

        Assert.Equal(("2026-03-06", TestShop.Local(2026, 3, 6, 17)), Due(new House(), friday, rules));
        Assert.Equal(
            ("2026-03-06", TestShop.Local(2026, 3, 6, 18)), Due(new House(), friday, rules with { Insurance = new InsuranceRules { EveningListAt = new LocalTime(23, 0) } }));
    }

    [Fact]
    public void What_is_missing_is_the_managers_at_once_and_until_it_is_counted()
    {
        var at = TestShop.Local(2026, 3, 6, 17);
        var row = Assert.Single(Rows(Counted(at, "J1/movement"), at, TestShop.Rules), one => one.Kind == AgendaKind.SafeMissing);

        Assert.Equal(("J1/movement", at, AgendaLevel.Manager), (row.Ref, row.Wake!.Value, row.Level));
        Assert.True(row.Wake < EveningList.ClosingOn(new LocalDate(2026, 3, 6), TestShop.Rules.Calendar));
        Assert.DoesNotContain(Rows(Counted(at), at, TestShop.Rules), one => one.Kind == AgendaKind.SafeMissing);
    }

    private static (string, Instant) Due(House house, Instant now, ShopRules rules) =>
        Assert.Single(Rows(house, now, rules), row => row.Kind == AgendaKind.EveningList) is var row ? (row.Ref, row.Due!.Value) : default;

    private static ImmutableArray<AgendaRow> Rows(House house, Instant now, ShopRules rules) => HousePlan.For(house, new HouseFacts(now, [], []) { Now = now }, rules);

    private static House Counted(Instant at, params ImmutableArray<string> missing) => House.Replay(
    [
        new Entry
        {
            Id = new EventId(EventId.Service, "counted"),
            Place = new Place(at, EventId.Service, 0, 1),
            StreamVersion = 1,
            Received = at,
            Event = new SafeCompared { Counted = 3, Missing = missing, Elsewhere = [] },
        },
    ]);
}
