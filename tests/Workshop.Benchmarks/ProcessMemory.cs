using System.Globalization;

namespace Workshop.Benchmarks;

/// <summary>The memory a process holds in the machine (proc(5): VmRSS of <c>status</c>).</summary>
internal static class ProcessMemory
{
    private const string Resident = "VmRSS:";
    private const string Highest = "VmHWM:";

    /// <summary>The most this process has held (VmHWM).</summary>
    public static double HighestMebibytesOfThis()
    {
        var line = File.ReadLines("/proc/self/status").First(one => one.StartsWith(Highest, StringComparison.Ordinal));
        return double.Parse(line[Highest.Length..].Replace("kB", ""), CultureInfo.InvariantCulture) / 1024;
    }

    public static long MebibytesOf(int process)
    {
        var line = File.ReadLines($"/proc/{process.ToString(CultureInfo.InvariantCulture)}/status").First(one => one.StartsWith(Resident, StringComparison.Ordinal));
        return long.Parse(line[Resident.Length..].Replace("kB", ""), CultureInfo.InvariantCulture) / 1024;
    }
}
