using System.Reflection;
using Workshop.Service.Storage;
using Xunit.Sdk;

namespace Workshop.Service.Tests.Storage;

/// <summary>Runs a test once on each engine: one contract, one suite, two databases.</summary>
public sealed class BothEnginesAttribute : DataAttribute
{
    public override IEnumerable<object[]> GetData(MethodInfo testMethod) => [[StorageEngine.Sqlite], [StorageEngine.Postgres]];
}
