using System.Globalization;
using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.Net.Http.Headers;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Service.Features.Photos;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

/// <summary>
/// One job as its customer sees it, for whoever knows the address. A token nobody made and one that was revoked take the same way: it is
/// hashed, looked up once, and answered the same.
/// </summary>
public static class ReadPublicPage
{
    public static async Task<Results<SeenPage, ProblemHttpResult>> Handle(
        string token, PublicLanguage language, Reader reader, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (await Find(token, reader, cancel) is not { } link)
        {
            return NoPage();
        }

        var shop = await rules.Read(link.Site, cancel);
        var read = await reader.Read(connection => PublicReading.Of(connection, link.Site, link.Label, shop), cancel);
        return read is null ? NoPage()
            : new SeenPage(MakePublicStatus.Of(read, link.Shows, clock.GetCurrentInstant(), language.Best, PublicToken.AddressOf(token)));
    }

    /// <summary>A photo that the desk has marked for the customer; any other is not there.</summary>
    public static async Task<Results<PhysicalFileHttpResult, ProblemHttpResult>> Photo(
        string token, string sha256, HttpResponse response, Reader reader, PhotoFiles files, CancellationToken cancel)
    {
        if (await Find(token, reader, cancel) is not { } link
            || !HashName.Is(sha256)
            || await reader.Read(connection => PhotoStore.Find(connection, link.Site, link.Label, sha256), cancel) is not { ForCustomer: 1 } photo
            || files.Find(link.Site, link.Label, photo, thumb: false) is not { } path)
        {
            return NoPage();
        }

        response.Headers.CacheControl = "private, no-cache";
        var tag = new EntityTagHeaderValue(string.Create(CultureInfo.InvariantCulture, $"\"{photo.StoredSha256}\""));
        return TypedResults.PhysicalFile(Path.GetFullPath(path), photo.MediaType, entityTag: tag);
    }

    internal static Task<StoredLink?> Find(string token, Reader reader, CancellationToken cancel)
    {
        var hash = PublicToken.HashOf(token);
        return reader.Read(connection => PublicLinkStore.OfHash(connection, hash), cancel);
    }

    internal static ProblemHttpResult NoPage() => Problems.Of(ProblemCatalogue.NoSuchPage, "There is no page at this address.");
}

/// <summary>A page in a state that has an ETag: the moment at which it is asked for is no part of that.</summary>
public sealed class SeenPage(PublicStatus page) : IResult, IEndpointMetadataProvider
{
    public Task ExecuteAsync(HttpContext context)
    {
        var tag = EntityTag.Of(page.Version, JsonSerializer.Serialize(page with { AsOf = Instant.MinValue }, WorkshopJson.Options));
        if (EntityTag.IsNamedBy(context.Request.Headers.IfNoneMatch, tag))
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            context.Response.Headers.ETag = tag;
            return Task.CompletedTask;
        }

        return new AnswerText
        {
            Status = StatusCodes.Status200OK,
            Body = JsonSerializer.Serialize(page, WorkshopJson.Options),
            Headers = new Dictionary<string, string> { [HeaderNames.ETag] = tag },
        }.ExecuteAsync(context);
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(PublicStatus), [AnswerText.Json]));
        builder.Metadata.Add(new GivesETag());
    }
}
