using NodaTime;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.References;

/// <summary>Lines through several readings; sources and how sure they are: SOURCES.md, "Rates from readings" and "A straight line".</summary>
public class WearFitTests
{
    // Constructed, recomputed with fractions.
    private static readonly (double Hours, decimal Offset)[] FiveReadings = [(0, 2.0m), (24, 5.1m), (49, 8.4m), (72, 11.0m), (96.5, 14.3m)];

    // NIST StRD, Norris: linear regression, lower level of difficulty, n = 36.
    private const string NorrisX =
        "0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 447.5 11.6 556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 0.5";

    private const string NorrisY =
        "0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 448.9 10.8 557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 0.2";

    [Fact]
    public void Five_readings_over_four_days_have_one_rate()
    {
        var fit = WearFit.Of(Points(0.01m))!;

        Assert.Equal(5, fit.Readings);
        Assert.Equal(3.03805m, Math.Round(fit.RatePerDaySeconds, 5));
        Assert.Equal(0.04162m, Math.Round(fit.StandardError, 5));
        Assert.Equal(2.04592m, Math.Round(fit.InterceptSeconds, 5));
        Assert.Equal(0.13216m, Math.Round(fit.ResidualSeconds, 5));
        Assert.Equal(3.182m, fit.StudentT);
        Assert.Equal(0.1324m, Math.Round(fit.PlusMinusSeconds, 4));
        Assert.Equal(3.0591m, Math.Round(WearArithmetic.Rate(2.0m, 14.3m, Duration.FromHours(96.5))!.Value, 4));
    }

    [Fact]
    public void Readings_that_are_coarser_than_their_scatter_say_how_sure_the_rate_is()
    {
        var fit = WearFit.Of(Points(1m))!;

        Assert.True(fit.FromReadings > fit.StudentT * fit.StandardError);
        Assert.Equal(fit.FromReadings, fit.PlusMinusSeconds);
    }

    [Fact]
    public void The_line_through_Norris_is_the_certified_one_to_twelve_digits()
    {
        var line = Line.Through([.. Numbers(NorrisX).Zip(Numbers(NorrisY))])!;

        Assert.Equal(1.00211681802045m, Math.Round(line.Slope, 14));
        Assert.Equal(-0.262323073774029m, Math.Round(line.Intercept, 15));
        Assert.Equal(0.000429796848199937m, Math.Round(line.StandardError, 18));
        Assert.Equal(0.232818234301152m, Math.Round(line.InterceptStandardError, 15));
        Assert.Equal(0.884796396144373m, Math.Round(line.Residual, 15));
    }

    // NIST/SEMATECH e-Handbook, 1.3.5.2 and the table of 1.3.6.7.2.
    [Theory]
    [InlineData(1, 12.706)]
    [InlineData(2, 4.303)]
    [InlineData(17, 2.110)]
    [InlineData(100, 1.984)]
    public void The_table_of_Student_is_the_published_one(int degrees, double published) => Assert.Equal((decimal)published, Workshop.Core.WearChecks.StudentT.TwoSided95(degrees));

    [Fact]
    public void The_table_of_Student_agrees_with_a_numerics_library_and_is_never_narrower_between_its_rows()
    {
        for (var degrees = 1; degrees <= 30; degrees++)
        {
            Assert.Equal(Math.Round(MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, degrees, 0.975), 3), (double)Workshop.Core.WearChecks.StudentT.TwoSided95(degrees), 6);
        }

        for (var degrees = 31; degrees <= 200; degrees++)
        {
            var exact = Math.Round(MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, degrees, 0.975), 3);
            Assert.InRange((double)Workshop.Core.WearChecks.StudentT.TwoSided95(degrees), exact - 1e-9, exact + 0.025);
        }
    }

    [Fact]
    public void Two_readings_make_no_line() => Assert.Null(WearFit.Of(Points(1m)[..2]));

    private static WearPoint[] Points(decimal uncertainty) => [.. FiveReadings.Select(one => new WearPoint(Duration.FromHours(one.Hours), one.Offset, uncertainty))];

    private static IEnumerable<decimal> Numbers(string list) => list.Split(' ').Select(one => decimal.Parse(one, System.Globalization.CultureInfo.InvariantCulture));
}
