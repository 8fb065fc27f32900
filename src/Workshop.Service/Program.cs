using NodaTime;
using Workshop.Service.Http;
using Workshop.Service.Settings;

var app = WorkshopApp.Build(MachineSettings.Read(new ConfigurationBuilder().AddEnvironmentVariables().Build()), NodaTime.SystemClock.Instance, awake: true);
app.Run();
