using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shop;

/// <summary>
/// The addresses under which every kind of document is read and saved. They name no type, so that what reads a request is compiled once with the
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

    public delegate Task<IResult> Saves(string id, SentJson sent, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel);

    public delegate Task<IResult> SavesTheOnlyOne(SentJson sent, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel);

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

    public static RouteHandlerBuilder MapSaveOne(this RouteGroupBuilder group, string pattern, Saves save) =>
        group.MapPut(pattern, (string id, SentJson sent, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel) => save(id, sent, seen, caller, writer, cancel));

    public static RouteHandlerBuilder MapSaveTheOnlyOne(this RouteGroupBuilder group, SavesTheOnlyOne save) =>
        group.MapPut("", (SentJson sent, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel) => save(sent, seen, caller, writer, cancel));

    /// <summary>Describes the body of an endpoint that reads it by itself.</summary>
    public static RouteHandlerBuilder Takes<T>(this RouteHandlerBuilder endpoint)
    {
        endpoint.Add(builder => builder.Metadata.Add(new AcceptsMetadata([SentJson.MediaType], typeof(T))));
        return endpoint;
    }

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
