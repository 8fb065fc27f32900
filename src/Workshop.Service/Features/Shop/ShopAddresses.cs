using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shop;

/// <summary>
/// The addresses under which every kind of document is read. They name no type, so that what reads a request is compiled once with the
/// program and not made anew for every kind at each start, which took the service most of its starting time.
/// </summary>
internal static class ShopAddresses
{
    public delegate Task<IResult> Lists(Page page, Caller caller, Reader reader, CancellationToken cancel);

    public delegate Task<IResult> ReadsOne(string id, string? on, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel);

    public delegate Task<IResult> ReadsTheOnlyOne(string? on, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel);

    public delegate Task<IResult> ListsVersions(string id, Page page, Caller caller, Reader reader, CancellationToken cancel);

    public delegate Task<IResult> ReadsVersion(string id, long version, Caller caller, Reader reader, CancellationToken cancel);

    public delegate Task<IResult> ReadsVersionOfTheOnlyOne(long version, Caller caller, Reader reader, CancellationToken cancel);

    public static RouteHandlerBuilder MapList(this RouteGroupBuilder group, Lists list) =>
        group.MapGet("", (Page page, Caller caller, Reader reader, CancellationToken cancel) => list(page, caller, reader, cancel));

    public static RouteHandlerBuilder MapOne(this RouteGroupBuilder group, ReadsOne read) =>
        group.MapGet("{id}", (string id, string? on, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel) => read(id, on, caller, reader, rules, cancel));

    public static RouteHandlerBuilder MapTheOnlyOne(this RouteGroupBuilder group, ReadsTheOnlyOne read) =>
        group.MapGet("", (string? on, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel) => read(on, caller, reader, rules, cancel));

    public static RouteHandlerBuilder MapVersionsOfOne(this RouteGroupBuilder group, ListsVersions list) =>
        group.MapGet("{id}/versions", (string id, Page page, Caller caller, Reader reader, CancellationToken cancel) => list(id, page, caller, reader, cancel));

    public static RouteHandlerBuilder MapVersionsOfTheOnlyOne(this RouteGroupBuilder group, Lists list) =>
        group.MapGet("versions", (Page page, Caller caller, Reader reader, CancellationToken cancel) => list(page, caller, reader, cancel));

    public static RouteHandlerBuilder MapVersionOfOne(this RouteGroupBuilder group, ReadsVersion read) =>
        group.MapGet("{id}/versions/{version:long}", (string id, long version, Caller caller, Reader reader, CancellationToken cancel) => read(id, version, caller, reader, cancel));

    public static RouteHandlerBuilder MapVersionOfTheOnlyOne(this RouteGroupBuilder group, ReadsVersionOfTheOnlyOne read) =>
        group.MapGet("versions/{version:long}", (long version, Caller caller, Reader reader, CancellationToken cancel) => read(version, caller, reader, cancel));

    /// <summary>Describes the answers of an endpoint that gives them as plain results.</summary>
    public static RouteHandlerBuilder Answers<T>(this RouteHandlerBuilder endpoint) where T : IResult, IEndpointMetadataProvider
    {
        endpoint.Add(builder => T.PopulateMetadata(((Delegate)Nothing).Method, builder));
        return endpoint;

        static void Nothing()
        {
        }
    }
}
