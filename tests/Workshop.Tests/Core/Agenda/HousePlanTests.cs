using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.House;
using Workshop.Core.Journal;
using Workshop.Core.Shop;

namespace Workshop.Tests.Core.Agenda;

/// <summary>What falls due in the house and belongs to no job. Figures are common practice, and settings of the shop.</summary>
public class HousePlanTests
{
    private static readonly ShopRules Rules = TestShop.Rules;
    private static readonly DateTimeZone Zone = Rules.Calendar.Zone;

    [Fact]
    public void A_device_is_silent_after_open_hours_and_not_after_a_closed_weekend()
    {
        var friday = At(2026, 3, 6, 16);

        var row = Assert.Single(For(devices: [new("bench-1", friday, Duration.FromHours(8))]), one => one.Kind == AgendaKind.DeviceSilent);

        // Two hours are left on Friday, six follow on Monday.
        Assert.Equal(At(2026, 3, 9, 15), row.Due);
        Assert.Equal(("bench-1", AgendaLevel.Due), (row.Ref, row.Level));
    }

    [Fact]
    public void A_device_whose_silence_nobody_minds_has_no_row() =>
        Assert.DoesNotContain(For(devices: [new("bench-1", At(2026, 3, 6, 16), Duration.Zero)]), one => one.Kind == AgendaKind.DeviceSilent);

    [Fact]
    public void A_filling_is_spoken_of_in_time_and_due_at_the_end_of_its_last_day()
    {
        var row = Assert.Single(For(fillings: [new("m1-clean-12", "clean", "machine-1", new LocalDate(2026, 3, 2))]), one => one.Kind == AgendaKind.FluidOld);

        Assert.Equal(At(2026, 3, 23, 9), row.Wake);
        Assert.Equal(At(2026, 3, 31, 0), row.Due);
        Assert.Equal("machine-1, clean: good through 2026-03-30", row.Line);
    }

    [Fact]
    public void A_jar_nobody_has_a_figure_for_lasts_as_other_jars() =>
        Assert.Equal(At(2026, 4, 28, 0), Assert.Single(For(fillings: [new("x", "soap-bath", null, new LocalDate(2026, 3, 2))]), one => one.Kind == AgendaKind.FluidOld).Due);

    [Fact]
    public void The_newest_back_up_counts_whenever_it_was_told_of()
    {
        var began = At(2026, 3, 2, 9);
        BackUpMade Made(Instant at) => new() { MadeAt = at, Where = "here" };
        var house = House.Replay([Entry(Made(At(2026, 3, 4, 3)), 1), Entry(Made(At(2026, 3, 3, 3)), 2)]);

        var none = Assert.Single(HousePlan.For(new House(), new HouseFacts(began, [], []), Rules));
        var some = Assert.Single(HousePlan.For(house, new HouseFacts(began, [], []), Rules));

        Assert.Equal(began + Duration.FromHours(36), none.Due);
        Assert.Equal("No back-up has been made yet", none.Line);
        Assert.Equal(At(2026, 3, 5, 15), some.Due);
    }

    [Fact]
    public void What_was_said_is_said_to_the_manager_next_and_then_no_more()
    {
        var began = At(2026, 3, 2, 9);
        var row = Assert.Single(HousePlan.For(new House(), new HouseFacts(began, [], []), Rules));
        Entry Said(AgendaLevel level, long position) => Entry(new DueAnnounced { Kind = row.Kind, Ref = row.Ref, Level = level, Due = row.Due!.Value }, position);

        var once = Assert.Single(HousePlan.For(House.Replay([Said(AgendaLevel.Due, 1)]), new HouseFacts(began, [], []), Rules));
        var twice = Assert.Single(HousePlan.For(House.Replay([Said(AgendaLevel.Due, 1), Said(AgendaLevel.Manager, 2)]), new HouseFacts(began, [], []), Rules));

        Assert.Equal(AgendaLevel.Due, row.Level);
        Assert.Equal((AgendaLevel.Manager, true), (once.Level, once.Wake > row.Wake));
        Assert.Null(twice.Wake);
    }

    private static IEnumerable<AgendaRow> For(HeardDevice[]? devices = null, FilledJar[]? fillings = null) =>
        HousePlan.For(new House(), new HouseFacts(At(2026, 3, 2, 9), devices ?? [], fillings ?? []), Rules);

    private static Entry Entry(WorkshopEvent one, long position) => new()
    {
        Id = new EventId(EventId.Service, $"{position}"),
        Place = new Place(At(2026, 3, 2, 9), EventId.Service, 0, position),
        StreamVersion = position,
        Received = At(2026, 3, 2, 9),
        Event = one,
    };

    private static Instant At(int year, int month, int day, int hour) => new LocalDateTime(year, month, day, hour, 0).InZoneStrictly(Zone).ToInstant();
}
