using System.Net;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api.People;

/// <summary>The people of the house, as its documents know them.</summary>
internal static class People
{
    public static readonly string MarasBadge = Label.Complete(LabelKind.Badge, [3, 1, 4, 1, 5, 9]).ToString();

    public static Task Exist(WorkshopHost host) => host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn =>
    {
        ShopDocuments.Put(turn, "people", "mara", $$"""{"id":"mara","name":"Mara Vonlanthen","manager":false,"badge":"{{MarasBadge}}"}""");
        ShopDocuments.Put(turn, "people", "vera", """{"id":"vera","name":"Vera Aebi","manager":false}""");
    });

    /// <summary>A manager gives somebody a number.</summary>
    public static async Task Give(WorkshopHost host, string person, string proof)
    {
        using var answer = await host.Manager.Send(HttpMethod.Put, $"/v1/people/{person}/proof", $$"""{"proof":"{{proof}}"}""", "application/json");
        Assert.Equal(HttpStatusCode.NoContent, answer.StatusCode);
    }
}
