using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Service.Http.Refusals;

/// <summary>Makes answers of RFC 9457, <c>application/problem+json</c>, from the catalogue.</summary>
public static class Problems
{
    public const string MediaType = "application/problem+json";

    /// <summary>A problem with what it names as further members.</summary>
    /// <param name="detail">One sentence about this very case; no name, address or amount.</param>
    public static ProblemDetails Details(ProblemKind kind, string detail, params ReadOnlySpan<(string Name, object? Value)> named)
    {
        var problem = new ProblemDetails
        {
            Type = kind.Type,
            Title = kind.Title,
            Status = kind.Status,
            Detail = detail,
            Extensions = { ["code"] = kind.Code },
        };
        foreach (var (name, value) in named)
        {
            problem.Extensions[name] = value;
        }

        return problem;
    }

    /// <inheritdoc cref="Details"/>
    public static ProblemHttpResult Of(ProblemKind kind, string detail, params ReadOnlySpan<(string Name, object? Value)> named) =>
        TypedResults.Problem(Details(kind, detail, named));

    /// <summary>422 with one line for each field that is not right; pointers lead into the body as sent.</summary>
    public static ProblemHttpResult BadFields(params IReadOnlyCollection<Fault> faults) => TypedResults.Problem(BadFieldsDetails(faults));

    /// <inheritdoc cref="BadFields"/>
    public static ProblemDetails BadFieldsDetails(IReadOnlyCollection<Fault> faults) => Details(
        ProblemCatalogue.BadFields,
        faults.Count == 1
            ? $"{Where(faults.First())}: {Sentence(faults.First().Detail)}"
            : $"{faults.Count} fields are not right; the first is {Where(faults.First())}: {Sentence(faults.First().Detail)}",
        ("errors", faults.Select(fault => new FieldError(fault.Pointer, Sentence(fault.Detail)) { Said = fault.Said }).ToArray()));

    /// <summary>422 for a parameter of the address.</summary>
    public static ProblemHttpResult BadParameter(string parameter, string detail) => Of(
        ProblemCatalogue.BadFields, $"{parameter}: {Sentence(detail)}", ("errors", new[] { new ParameterError(parameter, Sentence(detail)) }));

    // Details come from many hands, with a full stop and without.
    private static string Sentence(string detail) => $"{detail.TrimEnd('.')}.";

    private static string Where(Fault fault) => fault.Pointer.Length == 0 ? "The body" : fault.Pointer;
}

/// <summary>One field of a body that is not right.</summary>
/// <param name="Pointer">JSON Pointer (RFC 6901) to the field; empty for the body as a whole.</param>
/// <param name="Detail">What is expected there.</param>
public sealed record FieldError(string Pointer, string Detail)
{
    /// <summary>The detail for people, where there is one in every language.</summary>
    [JsonIgnore]
    public Phrase? Said { get; init; }
}

/// <summary>One parameter of the address that is not right.</summary>
public sealed record ParameterError(string Parameter, string Detail);
