using Serilog;
using Serilog.Core;
using Serilog.Events;
using Serilog.Formatting.Compact;
using Workshop.Service.Storage;

namespace Workshop.Service.Http;

/// <summary>
/// The log: to standard error, so that what a command prints stays apart; for people where a person looks on, else one JSON
/// object a line. Requests are not logged, and no line shows a path or a query: they can hold a customer's token or name.
/// </summary>
internal static class WorkshopLog
{
    private static readonly string[] NeverShown = ["RequestPath", "Path", "QueryString", "ConnectionId", "RequestId"];

    public static void Configure(LoggerConfiguration log)
    {
        log.MinimumLevel.Information()
            .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
            .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)
            .MinimumLevel.Override("System", LogEventLevel.Warning)
            .MinimumLevel.Override("Hangfire", LogEventLevel.Warning)
            .MinimumLevel.Override("Workshop.Service.Http.Keys.Bearer", LogEventLevel.Warning)
            .Enrich.With(new Leave())
            .Filter.ByExcluding(IsToldToWhoeverStarts);
        if (Console.IsErrorRedirected)
        {
            log.WriteTo.Console(new CompactJsonFormatter(), standardErrorFromLevel: LogEventLevel.Verbose);
        }
        else
        {
            log.WriteTo.Console(outputTemplate: "{Timestamp:HH:mm:ss} {Level:w3} {Message:lj}{NewLine}{Exception}", standardErrorFromLevel: LogEventLevel.Verbose);
        }
    }

    // A start that is refused is one sentence on standard error, without a stack trace beside it.
    private static bool IsToldToWhoeverStarts(LogEvent line) =>
        line.Exception is StorageNotReadyException or IOException { InnerException: Microsoft.AspNetCore.Connections.AddressInUseException };

    private sealed class Leave : ILogEventEnricher
    {
        public void Enrich(LogEvent line, ILogEventPropertyFactory properties)
        {
            foreach (var name in NeverShown)
            {
                line.RemovePropertyIfPresent(name);
            }
        }
    }
}
