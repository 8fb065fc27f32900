using System.Reflection;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.Net.Http.Headers;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.PublicPages;

/// <summary>The language of a page: <c>?language=de</c>, since whoever links to it knows their customer; else as everywhere the header Accept-Language.</summary>
public sealed class PublicLanguage : IBindableFromHttpContext<PublicLanguage>, IEndpointParameterMetadataProvider
{
    private PublicLanguage(Language best) => Best = best;

    public Language Best { get; }

    public static ValueTask<PublicLanguage?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        context.Response.Headers.Append(HeaderNames.Vary, HeaderNames.AcceptLanguage);
        var named = context.Request.Query["language"].ToString();
        return ValueTask.FromResult<PublicLanguage?>(new PublicLanguage(LanguageAsked.BestOf(named.Length > 0 ? new[] { named } : context.Request.Headers.AcceptLanguage)));
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(new SpeaksLanguages());
}
