using System.Text.Encodings.Web;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.Extracts;

/// <summary>A page on which anybody can show an extract: without scripts, and without anything to be loaded.</summary>
public static class SealPage
{
    public static PrintedPage Empty() => new(Page("", ""));

    public static async Task<PrintedPage> Shown(HttpContext context, LanguageAsked language, CheckSeal check)
    {
        // Whatever else is sent here is shown the page as it is, and nothing was found to check.
        if (!context.Request.HasFormContentType || await Extract(context) is not { } text)
        {
            return Empty();
        }

        var answer = await check.Look(text, language.Best, context.RequestAborted);
        var watch = answer.Watch is { } one
            ? $"<p>{Encoded(string.Join(" · ", new[] { one.Maker, one.Model, one.Reference, one.CaseSerial }.OfType<string>()))}</p>"
            : "";
        return new PrintedPage(Page($"<p class=\"answer\" role=\"status\">{Encoded(answer.Words)}</p>{watch}", text));
    }

    private static async Task<string?> Extract(HttpContext context)
    {
        try
        {
            return (await context.Request.ReadFormAsync(context.RequestAborted))["extract"].ToString();
        }
        catch (Exception failure) when (failure is InvalidDataException or IOException)
        {
            return null;
        }
    }

    private static string Page(string answer, string text) => $$"""
        <!doctype html>
        <html lang="en">
        <head>
        <meta charset="utf-8">
        <meta name="viewport" content="width=device-width, initial-scale=1">
        <title>Check a sealed extract</title>
        <style>
        body { font: 1.05rem/1.5 sans-serif; max-width: 46rem; margin: 2rem auto; padding: 0 1rem; color: #1d1d1b; background: #fdfcf8; }
        textarea { width: 100%; min-height: 16rem; font: .85rem/1.4 monospace; box-sizing: border-box; }
        button { font: inherit; padding: .5rem 1.2rem; margin-top: .6rem; }
        .answer { font-size: 1.25rem; border-left: .35rem solid #1d1d1b; padding: .3rem .9rem; }
        </style>
        </head>
        <body>
        <h1>Check a sealed extract</h1>
        {{answer}}
        <form method="post" action="/seal">
        <label for="extract">The extract, whole, as it was given to the owner of the watch</label>
        <textarea id="extract" name="extract" spellcheck="false" required>{{Encoded(text)}}</textarea>
        <button>Check</button>
        </form>
        <p>Compare the serial in the first line with the watch in your hand: a seal says what was written, not which watch you are looking at.</p>
        </body>
        </html>
        """;

    private static string Encoded(string text) => HtmlEncoder.Default.Encode(text);
}
