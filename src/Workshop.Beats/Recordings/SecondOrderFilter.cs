using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Workshop.Beats.Recordings;

/// <summary>
/// A recursive filter of second order for two channels at once, transposed direct form II. Source of the coefficients: the bilinear transform of
/// the analogue Butterworth sections, as in any text on digital filters (e.g. Oppenheim and Schafer, Discrete-Time Signal Processing).
/// </summary>
internal struct SecondOrderFilter
{
    private readonly Vector128<double> b0;
    private readonly Vector128<double> b1;
    private readonly Vector128<double> b2;
    private readonly Vector128<double> a1;
    private readonly Vector128<double> a2;
    private Vector128<double> first;
    private Vector128<double> second;

    private SecondOrderFilter(double b0, double b1, double b2, double a1, double a2)
    {
        this.b0 = Vector128.Create(b0);
        this.b1 = Vector128.Create(b1);
        this.b2 = Vector128.Create(b2);
        this.a1 = Vector128.Create(a1);
        this.a2 = Vector128.Create(a2);
    }

    /// <param name="quality">1/√2 for a Butterworth filter of second order; 0.5412 and 1.3066 are the two sections of one of fourth order.</param>
    public static SecondOrderFilter HighPass(double hertz, double rate, double quality)
    {
        var k = Math.Tan(Math.PI * hertz / rate);
        var norm = 1 / (1 + k / quality + k * k);
        return new SecondOrderFilter(norm, -2 * norm, norm, 2 * (k * k - 1) * norm, (1 - k / quality + k * k) * norm);
    }

    public static SecondOrderFilter LowPass(double hertz, double rate, double quality)
    {
        var k = Math.Tan(Math.PI * hertz / rate);
        var norm = 1 / (1 + k / quality + k * k);
        return new SecondOrderFilter(k * k * norm, 2 * k * k * norm, k * k * norm, 2 * (k * k - 1) * norm, (1 - k / quality + k * k) * norm);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<double> Next(Vector128<double> x)
    {
        var y = b0 * x + first;
        first = b1 * x - a1 * y + second;
        second = b2 * x - a2 * y;
        return y;
    }

    /// <summary>Sets what has all but died away to zero: arithmetic with denormal numbers is a hundred times slower.</summary>
    public void Settle()
    {
        const double nothing = 1e-60;
        var small = Vector128.Create(nothing);
        first = Vector128.ConditionalSelect(Vector128.LessThan(Vector128.Abs(first), small), Vector128<double>.Zero, first);
        second = Vector128.ConditionalSelect(Vector128.LessThan(Vector128.Abs(second), small), Vector128<double>.Zero, second);
    }
}
