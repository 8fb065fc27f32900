using System.Collections.Immutable;
using Workshop.Core.Casing;

namespace Workshop.Core.WaterTests;

/// <summary>What the glass over the dial is of.</summary>
public enum CrystalMaterial
{
    Acrylic,
    Mineral,
    Sapphire,
}

/// <summary>Why a watch is never put under pressure, or not without another look.</summary>
public enum NeverTested
{
    /// <summary>An acrylic crystal bears its rating and no more, and nobody knows that of this one.</summary>
    AcrylicRatingUnknown,

    /// <summary>The crystal is damaged or missing.</summary>
    CrystalDamaged,

    /// <summary>A vintage watch.</summary>
    Vintage,

    /// <summary>A seal was found broken: somebody was in it, and nobody knows what was closed how.</summary>
    SealBroken,

    /// <summary>The customer said not to.</summary>
    CustomerSaidNot,
}

/// <summary>What was against the cautions of the trade in a test that was made all the same.</summary>
public enum WaterCaution
{
    AcrylicAboveRating,
    AcrylicRatingUnknown,
    CrystalDamaged,
    Vintage,
    SealBroken,
    CustomerSaidNot,

    /// <summary>In water, and no dry test since the case was closed had passed.</summary>
    WetBeforeDry,

    /// <summary>The watch was not long enough at room temperature.</summary>
    ColdWatch,
}

/// <summary>Something that nobody has written down, and that decides how a watch is tested.</summary>
public enum WaterUnknown
{
    Rating,
    Crystal,
    CrystalCondition,
    Age,
    CustomersWish,
}

/// <summary>What is known of a watch before it is tested. Absent is not known, and is to be asked.</summary>
public sealed record WaterFacts
{
    public static WaterFacts Nothing { get; } = new();

    /// <summary>As written on the watch.</summary>
    public decimal? RatingBar { get; init; }

    /// <summary>It is a diver's watch.</summary>
    public bool? Diver { get; init; }

    public CrystalMaterial? Crystal { get; init; }

    public bool? CrystalDamaged { get; init; }

    public bool? Vintage { get; init; }

    public SealState? Seal { get; init; }

    /// <summary>False: the customer said not to test it.</summary>
    public bool? CustomerWishes { get; init; }

    /// <summary>Why it is never tested, by what is known; empty is no proof that it may be.</summary>
    public ImmutableArray<NeverTested> Never() =>
    [
        .. Only(Crystal == CrystalMaterial.Acrylic && RatingBar is null, NeverTested.AcrylicRatingUnknown),
        .. Only(CrystalDamaged == true, NeverTested.CrystalDamaged),
        .. Only(Vintage == true, NeverTested.Vintage),
        .. Only(Seal == SealState.Broken, NeverTested.SealBroken),
        .. Only(CustomerWishes == false, NeverTested.CustomerSaidNot),
    ];

    /// <summary>What is not known, and to be asked or looked at first.</summary>
    public ImmutableArray<WaterUnknown> Unknown() =>
    [
        .. Only(RatingBar is null, WaterUnknown.Rating),
        .. Only(Crystal is null, WaterUnknown.Crystal),
        .. Only(CrystalDamaged is null, WaterUnknown.CrystalCondition),
        .. Only(Vintage is null, WaterUnknown.Age),
        .. Only(CustomerWishes is null, WaterUnknown.CustomersWish),
    ];

    /// <summary>What was against the cautions in a test as it was told.</summary>
    /// <param name="dryPassed">A dry test of the case as it was closed, or of the empty case, has passed before.</param>
    public ImmutableArray<WaterCaution> Against(WaterTestRecorded told, bool dryPassed, WaterRules rules)
    {
        var rating = told.RatingBar ?? RatingBar;
        var pressed = told.Method != WaterTestMethod.Condensation;
        var acrylic = pressed && Crystal == CrystalMaterial.Acrylic;
        return
        [
            .. Only(acrylic && told.PressureBar > rating, WaterCaution.AcrylicAboveRating),
            .. Only(acrylic && rating is null, WaterCaution.AcrylicRatingUnknown),
            .. Only(pressed && CrystalDamaged == true, WaterCaution.CrystalDamaged),
            .. Only(pressed && Vintage == true, WaterCaution.Vintage),
            .. Only(pressed && Seal == SealState.Broken, WaterCaution.SealBroken),
            .. Only(CustomerWishes == false, WaterCaution.CustomerSaidNot),
            .. Only(told.Method == WaterTestMethod.Wet && !dryPassed && told.EmptyCase != true, WaterCaution.WetBeforeDry),
            .. Only(told.WatchAtRoomMinutes < rules.RoomMinutes, WaterCaution.ColdWatch),
        ];
    }

    private static ImmutableArray<T> Only<T>(bool applies, T one) => applies ? [one] : [];
}
