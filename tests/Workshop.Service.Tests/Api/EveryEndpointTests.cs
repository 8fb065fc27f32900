using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Tests.Api;

public partial class EveryEndpointTests
{
    /// <summary>All that is open to everybody. Whatever is not named here needs a key.</summary>
    private static readonly HashSet<string> Open =
    [
        "/health/live",
        "/health/ready",
        "/problems",
        "/problems/{code}",
        "/events/{type}.json",

        // Whoever has no key yet tells six digits here.
        "/v1/devices/pair",

        // Whoever is shown an extract may check it; a calendar is read by its token.
        "/seal",
        "/v1/seals/check",
        "/v1/seals/keys",
        "/v1/agenda/{file}",

        // A customer has no key: the address of their page is one.
        "/v1/public/{token}",
        "/v1/public/{token}/{**form}",
        "/v1/public/{token}/answer",
        "/v1/public/{token}/claim",
        "/v1/public/{token}/photos/{sha256}",
        "/v1/public/{token}/wear-report",

        // A signature is its key.
        "/v1/storefront/events",

        "/openapi/{documentName}.json",
        "/docs/{documentName?}",
        "/docs/favicon.svg",
        "/docs/scalar.js",
        "/docs/scalar.aspnetcore.js",
    ];

    [Fact]
    public async Task Every_address_is_one_operation_or_named_as_open()
    {
        await using var host = await WorkshopHost.Start();

        var neither = Endpoints(host).Where(endpoint => IsOpen(endpoint) == (OperationOf(endpoint) is not null)).Select(Text);

        Assert.True(!neither.Any(), string.Join('\n', neither));
    }

    [Fact]
    public async Task Every_open_address_is_meant_to_be_open()
    {
        await using var host = await WorkshopHost.Start();

        var open = Endpoints(host).Where(IsOpen).Select(endpoint => Pattern(endpoint)).Distinct();

        Assert.Equal(Open.Order(), open.Order());
    }

    [Fact]
    public async Task Every_operation_lets_its_roles_in_and_nobody_else()
    {
        await using var host = await WorkshopHost.Start();
        var wrong = new List<string>();

        foreach (var endpoint in Endpoints(host).Where(endpoint => OperationOf(endpoint) is not null))
        {
            await Expect(endpoint, "nobody", host.Stranger, status => status == HttpStatusCode.Unauthorized);
            foreach (var role in Enum.GetValues<Role>())
            {
                var may = Operations.MayDo(OperationOf(endpoint)!.Value).Contains(role);
                await Expect(endpoint, $"{role}", host.As(role), status => may
                    ? status is not (HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden or HttpStatusCode.InternalServerError)
                    : status == HttpStatusCode.Forbidden);
            }
        }

        Assert.True(!wrong.Any(), string.Join('\n', wrong));

        async Task Expect(RouteEndpoint endpoint, string who, HttpClient client, Func<HttpStatusCode, bool> right)
        {
            foreach (var method in MethodsOf(endpoint))
            {
                using var request = new HttpRequestMessage(new HttpMethod(method), Address(endpoint));
                using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead);
                if (!right(answer.StatusCode))
                {
                    wrong.Add($"{who}: {method} {Pattern(endpoint)} → {(int)answer.StatusCode}");
                }
            }
        }
    }

    private static IEnumerable<RouteEndpoint> Endpoints(WorkshopHost host) =>
        host.Services.GetServices<EndpointDataSource>().SelectMany(source => source.Endpoints).OfType<RouteEndpoint>();

    private static bool IsOpen(RouteEndpoint endpoint) => endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null;

    private static Operation? OperationOf(RouteEndpoint endpoint) => endpoint.Metadata.GetMetadata<OperationOf>()?.Operation;

    private static IEnumerable<string> MethodsOf(RouteEndpoint endpoint) => endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET"];

    private static string Text(RouteEndpoint endpoint) => $"{string.Join(',', MethodsOf(endpoint))} {Pattern(endpoint)}";

    private static string Pattern(RouteEndpoint endpoint) => "/" + endpoint.RoutePattern.RawText!.Trim('/');

    // Any value will do: who may not come in is turned away before anybody looks at it.
    private static string Address(RouteEndpoint endpoint) => Parameter().Replace(Pattern(endpoint), "1");

    [GeneratedRegex(@"\{[^}]*\}")]
    private static partial Regex Parameter();
}
