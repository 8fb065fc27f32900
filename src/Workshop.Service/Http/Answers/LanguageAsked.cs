using System.Reflection;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.Net.Http.Headers;
using Workshop.Core.Words;

namespace Workshop.Service.Http.Answers;

/// <summary>
/// The language a caller wants to be answered in: the header <c>Accept-Language</c> (RFC 9110, section 12.5.4), matched by the beginning
/// of the tag (<c>de-CH</c> is German). English where it names none of ours, or cannot be read.
/// </summary>
public sealed class LanguageAsked : IBindableFromHttpContext<LanguageAsked>, IEndpointParameterMetadataProvider
{
    private LanguageAsked(Language best) => Best = best;

    public Language Best { get; }

    /// <summary>The tag of a language as headers spell it.</summary>
    public static string Tag(Language language) => language == Language.German ? "de" : "en";

    public static ValueTask<LanguageAsked?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        // Whoever keeps answers for others is told what they depend on.
        context.Response.Headers.Append(HeaderNames.Vary, HeaderNames.AcceptLanguage);
        return ValueTask.FromResult<LanguageAsked?>(new LanguageAsked(BestOf(context.Request.Headers.AcceptLanguage)));
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(new SpeaksLanguages());

    internal static Language BestOf(IList<string> acceptLanguage)
    {
        if (acceptLanguage.Count == 0 || !StringWithQualityHeaderValue.TryParseList(acceptLanguage, out var asked))
        {
            return Language.English;
        }

        // Of several equally welcome the first one; the sort keeps their order.
        foreach (var one in asked.Where(one => one.Quality is not 0).OrderByDescending(one => one.Quality ?? 1))
        {
            var primary = one.Value.AsSpan();
            primary = primary.IndexOf('-') is > 0 and var end ? primary[..end] : primary;
            if (primary.Equals("de", StringComparison.OrdinalIgnoreCase))
            {
                return Language.German;
            }

            if (primary.Equals("en", StringComparison.OrdinalIgnoreCase) || primary is "*")
            {
                return Language.English;
            }
        }

        return Language.English;
    }
}

/// <summary>The endpoint answers in the language asked for.</summary>
public sealed record SpeaksLanguages;
