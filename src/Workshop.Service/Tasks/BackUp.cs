using Microsoft.Data.Sqlite;
using NodaTime;
using Workshop.Core.House;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>
/// Makes a copy of the database when the newest one is of yesterday. Asked every hour, since a workshop's machine may be off at night;
/// what fails is tried again in an hour, and the agenda tells when it has failed for too long.
/// </summary>
public sealed partial class BackUp(IClock clock, BackUps backUps, Writer writer, ILogger<BackUp> log)
{
    /// <summary>A little less than a day, so that it stays at the hour it once was.</summary>
    private static readonly Duration MadeAfter = Duration.FromHours(23);

    public async Task Run(CancellationToken cancel)
    {
        var now = clock.GetCurrentInstant();
        if (!backUps.AreOurs
            || await writer.Turn(Migrations.FirstSite, turn => HouseAgenda.Fold(turn).LastBackUp?.MadeAt, cancel) is { } last && now - last < MadeAfter)
        {
            return;
        }

        try
        {
            var made = await Task.Run(() => backUps.Make(now), cancel);
            await writer.Turn(Migrations.FirstSite, turn => HouseAgenda.Keep(turn, EventId.Service, new BackUpMade { MadeAt = now, Where = made.Name, Bytes = made.Bytes }), cancel);
            Made(made.Name, made.Bytes);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or InvalidDataException or SqliteException)
        {
            NotMade(failure);
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "A back-up was made: {Name}, {Bytes} bytes.")]
    private partial void Made(string name, long bytes);

    [LoggerMessage(Level = LogLevel.Error, Message = "No back-up could be made; it is tried again in an hour.")]
    private partial void NotMade(Exception failure);
}
