using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;

namespace Workshop.Service.Tests.Api;

/// <summary>A problem as a client reads it.</summary>
public sealed record SeenProblem(string Type, string Title, int Status, string Detail, string Code, JsonElement Whole)
{
    /// <summary>The pointers of <c>errors[]</c>, in order.</summary>
    public IEnumerable<string> Pointers => Whole.GetProperty("errors").EnumerateArray().Select(error => error.GetProperty("pointer").GetString()!);
}

/// <summary>What tests read from answers and send in requests.</summary>
public static class AnswerExtensions
{
    /// <summary>Reads a problem and checks what every problem has to keep to (RFC 9457, section 3).</summary>
    public static async Task<SeenProblem> Problem(this HttpResponseMessage answer)
    {
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        var whole = JsonElement.Parse(text);
        var problem = new SeenProblem(
            whole.GetProperty("type").GetString()!,
            whole.GetProperty("title").GetString()!,
            whole.GetProperty("status").GetInt32(),
            whole.GetProperty("detail").GetString()!,
            whole.GetProperty("code").GetString()!,
            whole);
        Assert.Equal((int)answer.StatusCode, problem.Status);
        Assert.Equal($"/problems/{problem.Code}", problem.Type);
        Assert.DoesNotContain("   at ", text);
        return problem;
    }

    public static async Task<JsonElement> Json(this HttpResponseMessage answer)
    {
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, $"{(int)answer.StatusCode}: {text}");
        return JsonElement.Parse(text);
    }

    public static Task<HttpResponseMessage> PostJson(this HttpClient client, string address, string json, params ReadOnlySpan<(string Name, string Value)> headers) =>
        client.Send(HttpMethod.Post, address, json, "application/json", headers);

    public static Task<HttpResponseMessage> Send(
        this HttpClient client, HttpMethod method, string address, string? body, string mediaType, params ReadOnlySpan<(string Name, string Value)> headers)
    {
        var request = new HttpRequestMessage(method, address);
        if (body is not null)
        {
            request.Content = new ByteArrayContent(Encoding.UTF8.GetBytes(body));
            request.Content.Headers.ContentType = MediaTypeHeaderValue.Parse(mediaType);
        }

        foreach (var (name, value) in headers)
        {
            request.Headers.TryAddWithoutValidation(name, value);
        }

        return client.SendAsync(request);
    }
}
