using Microsoft.AspNetCore.Http.HttpResults;

namespace Workshop.Service.Http.Bodies;

/// <summary>
/// A parameter of an endpoint that reads itself from the request and may have to be refused: a body, an If-Match, a page.
/// The refusal is given before the endpoint's own code runs, which therefore only meets readable ones.
/// </summary>
public interface IRefusable
{
    /// <summary>The answer where it could not be read, else null.</summary>
    ProblemHttpResult? Refusal { get; }
}

/// <summary>Answers with the first refusal among an endpoint's parameters.</summary>
internal sealed class RefuseWhatCannotBeRead : IEndpointFilter
{
    public ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        foreach (var argument in context.Arguments)
        {
            if (argument is IRefusable { Refusal: { } refusal })
            {
                return ValueTask.FromResult<object?>(refusal);
            }
        }

        return next(context);
    }
}
