using System.Globalization;

namespace Workshop.Benchmarks;

/// <summary>Processor time that a process has used so far, as the kernel counts it (proc(5): utime and stime of <c>stat</c>).</summary>
/// <param name="Whole">All of its threads, ended ones too.</param>
/// <param name="Writer">Its writer's thread.</param>
internal readonly record struct ProcessorTime(TimeSpan Whole, TimeSpan Writer)
{
    private const string WriterThread = "writer";

    // What sysconf(_SC_CLK_TCK) gives on every Linux that .NET runs on.
    private const int TicksPerSecond = 100;

    public static ProcessorTime Of(int process)
    {
        var folder = $"/proc/{process.ToString(CultureInfo.InvariantCulture)}";
        var writer = Directory.GetDirectories($"{folder}/task").FirstOrDefault(IsWriter)
            ?? throw new InvalidOperationException($"The process {process} has no thread named '{WriterThread}'.");
        return new ProcessorTime(Read($"{folder}/stat"), Read($"{writer}/stat"));
    }

    public static ProcessorTime operator -(ProcessorTime later, ProcessorTime earlier) => new(later.Whole - earlier.Whole, later.Writer - earlier.Writer);

    private static bool IsWriter(string thread)
    {
        try
        {
            return File.ReadAllText($"{thread}/comm").TrimEnd('\n') == WriterThread;
        }
        catch (IOException)
        {
            // It ended while we looked.
            return false;
        }
    }

    // The name in parentheses may hold blanks; counted from behind it utime and stime are the 12th and 13th field.
    private static TimeSpan Read(string stat)
    {
        var text = File.ReadAllText(stat);
        var fields = text[(text.LastIndexOf(')') + 2)..].Split(' ');
        var ticks = long.Parse(fields[11], CultureInfo.InvariantCulture) + long.Parse(fields[12], CultureInfo.InvariantCulture);
        return TimeSpan.FromSeconds((double)ticks / TicksPerSecond);
    }
}
