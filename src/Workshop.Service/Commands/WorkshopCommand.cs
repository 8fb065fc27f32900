using System.CommandLine;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Commands;

/// <summary>The one program with its sub-commands.</summary>
public static class WorkshopCommand
{
    /// <summary>What was asked for was done and all is well.</summary>
    public const int Well = 0;

    /// <summary>It was done, or begun, and something is not well; a sentence says what.</summary>
    public const int NotWell = 1;

    /// <summary>It was not begun, since a setting or an argument is wrong.</summary>
    public const int NotBegun = 2;

    public static async Task<int> Run(string[] arguments)
    {
        var program = new RootCommand("Keeps what happens to the watches of a workshop, says what may come next, and reminds of what is due.")
        {
            DemoCommand.Make(),
            ServeCommand.Make(),
            MigrateCommand.Make(),
            CheckCommand.Make(),
            KeysCommand.Make(),
            HolidaysCommand.Make(),
            ListenCommand.Make(),
            SignCommand.Make(),
            TrialCommand.Make(),
            HealthCommand.Make(),
        };

        var read = program.Parse(arguments);
        try
        {
            // The running service sees to signals itself and finishes what it has begun.
            var code = await read.InvokeAsync(new InvocationConfiguration { EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null });
            return read.Errors.Count > 0 ? NotBegun : code;
        }
        catch (SettingException refused)
        {
            return await Tell(refused.Message, NotBegun);
        }
        catch (StorageNotReadyException refused)
        {
            return await Tell(refused.Message, NotWell);
        }
        catch (StorageUnavailableException refused)
        {
            return await Tell($"The database cannot be reached: {refused.InnerException?.Message}", NotWell);
        }
        catch (IOException refused) when (refused.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            return await Tell($"{refused.Message} Stop what listens there, or choose another {KnownSettings.HttpPort.Name}.", NotWell);
        }
    }

    private static async Task<int> Tell(string sentence, int code)
    {
        await Console.Error.WriteLineAsync(sentence);
        return code;
    }
}
