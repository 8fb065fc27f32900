using System.CommandLine;
using Workshop.Benchmarks.Folds;
using Workshop.Benchmarks.Listens;
using Workshop.Benchmarks.Posts;
using Workshop.Benchmarks.Reads;
using Workshop.Benchmarks.Searches;
using Workshop.Benchmarks.Sweeps;

// Named measurements, each against something measured in the same run on the same machine.
var program = new RootCommand("Measures the service, each time against something measured in the same run.")
{
    MeasurePosts.Command(),
    MeasureFolds.Command(),
    MeasureReads.Command(),
    MeasureSweeps.Command(),
    MeasureSearches.Command(),
    MeasureListening.Command(),
    MeasureAccuracy.Command(),
};
return await program.Parse(args).InvokeAsync();
