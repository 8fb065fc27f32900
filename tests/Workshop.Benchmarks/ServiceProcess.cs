using System.Diagnostics;
using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks;

/// <summary>The built service as a process of its own, the way a shop runs it: <c>serve</c> on a free port of the loopback address.</summary>
public sealed class ServiceProcess : IAsyncDisposable
{
    private const string Program = "Workshop.Service.dll";

    private static readonly TimeSpan StartingTakesAtMost = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan EndingTakesAtMost = TimeSpan.FromSeconds(30);

    private readonly Process process;
    private readonly List<string> said = [];
    private readonly TaskCompletionSource<Uri> listening = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private ServiceProcess(Process process) => this.process = process;

    public int Id => process.Id;

    public Uri Address { get; private set; } = new("http://127.0.0.1");

    /// <summary>What it has written so far, its log among it.</summary>
    public string Said
    {
        get
        {
            lock (said)
            {
                return string.Join('\n', said);
            }
        }
    }

    /// <summary>Starts it on a prepared database and waits until it listens.</summary>
    /// <param name="under">A program that starts it in turn, with its arguments, such as a tracer; nothing for none.</param>
    /// <exception cref="InvalidOperationException">It ended instead; the message is what it said.</exception>
    public static Task<ServiceProcess> Start(StorageSettings storage, params string[] under) => Start(storage, [], under);

    /// <summary>The same with settings of the machine by their names, for example <c>Webhooks:Timeout</c>.</summary>
    public static async Task<ServiceProcess> Start(StorageSettings storage, IReadOnlyCollection<(string Name, string Value)> set, params string[] under)
    {
        var how = HowToStart(storage, under);
        foreach (var (name, value) in set)
        {
            how.Environment[name.Replace(":", "__", StringComparison.Ordinal)] = value;
        }

        var service = new ServiceProcess(new Process { StartInfo = how, EnableRaisingEvents = true });
        service.process.OutputDataReceived += (_, line) => service.Hear(line.Data);
        service.process.ErrorDataReceived += (_, line) => service.Hear(line.Data);
        service.process.Start();
        service.process.BeginOutputReadLine();
        service.process.BeginErrorReadLine();
        var ended = service.process.WaitForExitAsync();
        if (await Task.WhenAny(service.listening.Task, ended).WaitAsync(StartingTakesAtMost) == ended)
        {
            throw new InvalidOperationException($"The service ended with {service.process.ExitCode}: {service.Said}");
        }

        service.Address = await service.listening.Task;
        return service;
    }

    /// <summary>Ends it by the signal that nobody can answer: none of its own handlers runs.</summary>
    public async Task Kill()
    {
        process.Kill();
        await process.WaitForExitAsync().WaitAsync(EndingTakesAtMost);
    }

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync().WaitAsync(EndingTakesAtMost);
        }

        process.Dispose();
    }

    /// <summary>Runs a sub-command of the built program to its end.</summary>
    /// <returns>Its exit code and all it wrote.</returns>
    public static async Task<(int ExitCode, string Output)> Run(StorageSettings storage, params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [PathOfProgram, .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true };
        Tell(start, storage);
        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var errors = process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, await output + await errors);
    }

    private static string PathOfProgram => Path.Combine(AppContext.BaseDirectory, Program);

    private static ProcessStartInfo HowToStart(StorageSettings storage, string[] under)
    {
        string[] serve = ["dotnet", PathOfProgram, "serve", "--set", $"Http:Address={IPAddress.Loopback}", "--set", "Http:Port=0"];
        string[] whole = [.. under, .. serve];
        var start = new ProcessStartInfo(whole[0], whole[1..]) { RedirectStandardOutput = true, RedirectStandardError = true };
        Tell(start, storage);
        return start;
    }

    // By the environment: a connection string holds a password, which must not show in the list of processes.
    private static void Tell(ProcessStartInfo start, StorageSettings storage)
    {
        start.Environment["Storage__Engine"] = storage.Engine == StorageEngine.Postgres ? "postgres" : "sqlite";
        start.Environment["Storage__Path"] = storage.Path;
        start.Environment["Storage__Postgres"] = storage.Postgres ?? "";
    }

    // Where its error output is no terminal, the log is one JSON object a line.
    private void Hear(string? line)
    {
        if (line is null)
        {
            return;
        }

        lock (said)
        {
            said.Add(line);
        }

        if (line.StartsWith('{') && Read(line) is { } told && told["Address"] is JsonValue address)
        {
            listening.TrySetResult(new Uri(address.GetValue<string>()));
        }
    }

    private static JsonObject? Read(string line)
    {
        try
        {
            return JsonNode.Parse(line) as JsonObject;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
