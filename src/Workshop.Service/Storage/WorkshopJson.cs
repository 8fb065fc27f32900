using System.Collections;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using NodaTime.Serialization.SystemTextJson;
using Workshop.Core.Journal;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;

namespace Workshop.Service.Storage;

/// <summary>How this program writes and reads JSON, in answers, request bodies and the database alike.</summary>
/// <remarks>
/// Members in camelCase, members that are null left out, words for closed lists, numbers never as text. A moment is RFC 3339
/// (<c>2026-03-02T09:14:03Z</c>, an offset is accepted), a day <c>YYYY-MM-DD</c>, a time of day <c>09:00</c>, elapsed time
/// <c>PT24H</c>, a term <c>P24M</c>, a label its eight characters.
/// </remarks>
public static class WorkshopJson
{
    /// <summary>For answers, and for reading what may have grown since.</summary>
    public static JsonSerializerOptions Options { get; } = Make();

    /// <summary>For request bodies: a member nobody knows is an error.</summary>
    public static JsonSerializerOptions Bodies { get; } = Make(options => options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow);

    /// <summary>For what is kept (events, judgements, documents): members that are computed from others are left out.</summary>
    public static JsonSerializerOptions Stored { get; } = Make(modifiers: LeaveOutWhatIsComputed);

    /// <summary>Gives options that others own (those of the web framework) the same manners.</summary>
    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.DictionaryKeyPolicy = null;
        options.PropertyNameCaseInsensitive = false;
        options.NumberHandling = JsonNumberHandling.Strict;
        options.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        options.RespectNullableAnnotations = true;
        options.RespectRequiredConstructorParameters = true;
        options.AllowDuplicateProperties = false;
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;

        options.Converters.Add(new WordConverterFactory());
        options.Converters.Add(new LabelConverter());
        options.Converters.Add(new NeedConverter());
        options.Converters.Add(new InstantConverter());
        options.Converters.Add(new LocalTimeConverter());
        options.Converters.Add(new DurationConverter());
        options.Converters.Add(NodaConverters.LocalDateConverter);
        options.Converters.Add(NodaConverters.RoundtripPeriodConverter);
    }

    /// <summary>Options with these manners and something besides.</summary>
    internal static JsonSerializerOptions Make(Action<JsonSerializerOptions>? besides = null, params ReadOnlySpan<Action<JsonTypeInfo>> modifiers)
    {
        var resolver = new DefaultJsonTypeInfoResolver();
        resolver.Modifiers.Add(LeaveEmptyListsOutOfJudgements);
        resolver.Modifiers.Add(AskForTheWholeStruct);
        foreach (var modifier in modifiers)
        {
            resolver.Modifiers.Add(modifier);
        }

        var options = new JsonSerializerOptions { TypeInfoResolver = resolver };
        Configure(options);
        besides?.Invoke(options);
        options.MakeReadOnly();
        return options;
    }

    // Of a struct the serializer takes whatever is left out for nothing.
    private static void AskForTheWholeStruct(JsonTypeInfo type)
    {
        if (type.Type == typeof(EventId) || type.Type == typeof(OpenSpan) || type.Type == typeof(OptionAnswer))
        {
            foreach (var property in type.Properties)
            {
                property.IsRequired = true;
            }
        }
    }

    // The serializer's own setting for this spares lists.
    internal static void LeaveOutWhatIsComputed(JsonTypeInfo type)
    {
        for (var i = type.Properties.Count - 1; i >= 0; i--)
        {
            if (type.Properties[i] is { Set: null, AssociatedParameter: null })
            {
                type.Properties.RemoveAt(i);
            }
        }
    }

    // Most entries have nothing to freeze: what was not decided is not written, so that "nothing" is {}.
    private static void LeaveEmptyListsOutOfJudgements(JsonTypeInfo type)
    {
        if (type.Type != typeof(Judged))
        {
            return;
        }

        foreach (var property in type.Properties)
        {
            if (property.PropertyType.IsValueType && property.PropertyType.IsAssignableTo(typeof(IList)))
            {
                property.ShouldSerialize = (_, list) => list is IList { Count: > 0 };
            }
        }
    }
}
