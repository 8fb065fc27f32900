using System.Reflection;
using NodaTime;
using Workshop.Service.Commands;
using Workshop.Service.Http;
using Workshop.Service.Settings;

// The build asks the program for its description through a tool that calls this entry: nothing is opened and nothing runs.
if (Assembly.GetEntryAssembly()?.GetName().Name == "GetDocument.Insider")
{
    await WorkshopApp.Build(MachineSettings.Read(new ConfigurationBuilder().Build()), SystemClock.Instance, serve: false).RunAsync();
    return 0;
}

return await WorkshopCommand.Run(args);
