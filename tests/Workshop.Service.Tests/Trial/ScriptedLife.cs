using System.Text.Json.Nodes;
using Jint;
using Jint.Native;
using Jint.Native.Object;

namespace Workshop.Service.Tests.Trial;

/// <summary>
/// The script between two power cuts. Everything in it runs on the bench's thread; answers from outside come back there too, and come to
/// nothing once the power was cut.
/// </summary>
internal sealed class ScriptedLife
{
    private const string Harness = """
        import { openBenchClient } from "bench-client";
        export const opened = (outside) => openBenchClient({ ...outside, show: (shown) => outside.show(JSON.stringify(shown)) });
        export const settle = (what, told, failed) => Promise.resolve(what).then((value) => told(JSON.stringify(value ?? null)), (error) => failed(String(error)));
        export const call = (client, method, text) => client.then((it) => it[method](text === null ? undefined : JSON.parse(text)));
        """;

    private readonly ScriptedBench bench;
    private readonly Engine engine = new();
    private readonly ObjectInstance harness;
    private readonly JsValue client;
    private readonly HashSet<TaskCompletionSource<string>> waiting = [];
    private bool over;

    public ScriptedLife(ScriptedBench bench, string script)
    {
        this.bench = bench;
        engine.Modules.Add("bench-client", script);
        engine.Modules.Add("harness", Harness);
        harness = engine.Modules.Import("harness");
        client = engine.Invoke(harness.Get("opened"), Outside());
    }

    public void Call(string method, string? argument, TaskCompletionSource<string> told)
    {
        waiting.Add(told);
        try
        {
            var promise = engine.Invoke(harness.Get("call"), client, method, argument);
            engine.Invoke(
                harness.Get("settle"),
                promise,
                new Action<string>(value => Finish(told, done => done.TrySetResult(value))),
                new Action<string>(error => Finish(told, done => done.TrySetException(new InvalidOperationException(error)))));
        }
        catch (Exception failure)
        {
            Finish(told, done => done.TrySetException(failure));
        }
    }

    /// <summary>Lets everything run that can run now.</summary>
    public void Settle() => engine.Advanced.ProcessTasks();

    public void End()
    {
        over = true;
        foreach (var one in waiting)
        {
            one.TrySetException(new IOException("The power was cut."));
        }
    }

    private void Finish(TaskCompletionSource<string> told, Action<TaskCompletionSource<string>> how)
    {
        waiting.Remove(told);
        how(told);
    }

    private JsObject Outside()
    {
        var storage = Object(
            ("get", Function((string name) => Later(() => bench.Stored(name) is { } text ? (JsValue)text : JsValue.Null))),
            ("set", Function((string name, string text) => Later(() =>
            {
                bench.Store(name, text);
                return JsValue.Undefined;
            }))));
        return Object(
            ("storage", storage),
            ("fetch", Function<string, JsValue>(Fetch)),
            ("now", JsValue.FromObject(engine, new Func<double>(() => bench.Clock().ToUnixTimeMilliseconds()))),
            ("random", JsValue.FromObject(engine, new Func<double>(bench.Chance.NextDouble))),
            ("newId", JsValue.FromObject(engine, new Func<string>(() => Guid.CreateVersion7(bench.Clock().ToDateTimeOffset()).ToString()))),
            ("within", Function((double milliseconds) => Object(("milliseconds", milliseconds)))),
            ("show", JsValue.FromObject(engine, new Action<string>(shown => bench.Shown.Enqueue(JsonNode.Parse(shown)!)))));
    }

    private JsValue Fetch(string url, JsValue given)
    {
        var options = given.AsObject();
        var headers = options.Get("headers").AsObject();
        var request = new ScriptedRequest(
            url,
            options.Get("method").AsString(),
            [.. headers.GetOwnProperties().Select(header => (header.Key.AsString(), header.Value.Value.AsString()))],
            options.Get("body").AsString(),
            options.Get("redirect") is JsString { } redirect ? redirect.AsString() == "follow" : true,
            options.HasProperty("patient") ? TimeSpan.FromMinutes(1) : TimeSpan.FromMilliseconds(Math.Min(options.Get("signal").AsObject().Get("milliseconds").AsNumber(), bench.AnswerWithin.TotalMilliseconds)));
        var promise = engine.Advanced.RegisterPromise();
        _ = Task.Run(async () =>
        {
            try
            {
                var (status, answered, body) = await request.Send();
                if (bench.AnswersToLose > 0)
                {
                    bench.AnswersToLose--;
                    throw new HttpRequestException("The answer was lost.");
                }

                Back(() => promise.Resolve(Object(
                    ("status", status),
                    ("headers", Object(("get", Function((string name) => answered.TryGetValues(name, out var values) ? (JsValue)string.Join(", ", values) : JsValue.Null)))),
                    ("text", JsValue.FromObject(engine, new Func<JsValue>(() => Later(() => body)))))));
            }
            catch (Exception silence) when (silence is HttpRequestException or OperationCanceledException or IOException)
            {
                Back(() => promise.Reject(engine.Intrinsics.TypeError.Construct(silence.Message)));
            }
        });
        return promise.Promise;
    }

    /// <summary>A promise that is kept at the script's next turn, as storage and network keep theirs.</summary>
    private JsValue Later(Func<JsValue> what)
    {
        var promise = engine.Advanced.RegisterPromise();
        Back(() => promise.Resolve(what()));
        return promise.Promise;
    }

    private void Back(Action then) => bench.Later(() =>
    {
        if (!over)
        {
            then();
        }
    });

    private JsValue Function<T>(Func<T, JsValue> function) => JsValue.FromObject(engine, function);

    private JsValue Function<T1, T2>(Func<T1, T2, JsValue> function) => JsValue.FromObject(engine, function);

    private JsObject Object(params (string Name, JsValue Value)[] members)
    {
        var made = new JsObject(engine);
        foreach (var (name, value) in members)
        {
            made.Set(name, value);
        }

        return made;
    }
}
