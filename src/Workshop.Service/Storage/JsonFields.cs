using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage;

/// <summary>
/// Compares JSON with the type it is meant to become and names everything that is not right, where reading alone would
/// stop at the first.
/// </summary>
public sealed class JsonFields
{
    private const int FaultsNamedAtMost = 50;
    private const int ForeignNameAtMost = 60;

    private readonly List<Fault> faults = [];
    private readonly bool unknownIsWrong;

    private JsonFields(bool unknownIsWrong) => this.unknownIsWrong = unknownIsWrong;

    /// <summary>Names what is wrong, at most fifty things; a member nobody knows is wrong.</summary>
    /// <param name="unknownIsWrong">False where whoever sent it may be newer than this program.</param>
    public static IReadOnlyList<Fault> Check(JsonElement sent, Type type, bool unknownIsWrong = true)
    {
        var fields = new JsonFields(unknownIsWrong);
        fields.CheckValue(sent, type, "");
        return fields.faults;
    }

    private void CheckValue(JsonElement sent, Type type, string pointer)
    {
        var info = WorkshopJson.Bodies.GetTypeInfo(Nullable.GetUnderlyingType(type) ?? type);
        switch (info.Kind, sent.ValueKind)
        {
            case (JsonTypeInfoKind.Object, JsonValueKind.Object):
                CheckMembers(sent, info, pointer);
                break;

            case (JsonTypeInfoKind.Enumerable, JsonValueKind.Array):
                foreach (var (at, element) in sent.EnumerateArray().Index())
                {
                    CheckElement(element, info.ElementType!, $"{pointer}/{at}");
                }

                break;

            case (JsonTypeInfoKind.Dictionary, JsonValueKind.Object):
                foreach (var pair in sent.EnumerateObject())
                {
                    CheckElement(pair.Value, info.ElementType!, Step(pointer, pair.Name));
                }

                break;

            case (JsonTypeInfoKind.Object or JsonTypeInfoKind.Dictionary, _):
                Add(pointer, "This is not an object.");
                break;

            case (JsonTypeInfoKind.Enumerable, _):
                Add(pointer, "This is not a list.");
                break;

            default:
                CheckLeaf(sent, info, pointer);
                break;
        }
    }

    private void CheckElement(JsonElement sent, Type type, string pointer)
    {
        if (sent.ValueKind != JsonValueKind.Null)
        {
            CheckValue(sent, type, pointer);
        }
        else if (Nullable.GetUnderlyingType(type) is null)
        {
            Add(pointer, "This must not be null.");
        }
    }

    private void CheckMembers(JsonElement sent, JsonTypeInfo info, string pointer)
    {
        foreach (var member in sent.EnumerateObject())
        {
            var at = Step(pointer, member.Name);
            if (info.Properties.FirstOrDefault(one => one.Name == member.Name && IsRead(one)) is not { } property)
            {
                if (unknownIsWrong)
                {
                    Add(at, "There is no such member.");
                }
            }
            else if (member.Value.ValueKind != JsonValueKind.Null)
            {
                var before = faults.Count;
                CheckValue(member.Value, property.PropertyType, at);
                if (faults.Count == before)
                {
                    CheckLimits(member.Value, property, at);
                }
            }
            else if (!property.IsSetNullable)
            {
                Add(at, "This must not be null.");
            }
        }

        foreach (var missing in info.Properties.Where(one => one.IsRequired && !sent.TryGetProperty(one.Name, out _)))
        {
            Add(Step(pointer, missing.Name), $"'{missing.Name}' is missing.");
        }
    }

    private static bool IsRead(JsonPropertyInfo property) => property.Set is not null || property.AssociatedParameter is not null;

    private void CheckLeaf(JsonElement sent, JsonTypeInfo info, string pointer)
    {
        try
        {
            sent.Deserialize(info);
        }
        catch (JsonException failure)
        {
            Add(pointer, JsonFaults.Of(failure).Detail);
        }
    }

    private void CheckLimits(JsonElement sent, JsonPropertyInfo property, string pointer)
    {
        foreach (var limit in property.AttributeProvider?.GetCustomAttributes(typeof(ValidationAttribute), inherit: true) ?? [])
        {
            if (Complaint((ValidationAttribute)limit, sent) is { } complaint)
            {
                Add(pointer, complaint);
            }
        }
    }

    private static string? Complaint(ValidationAttribute limit, JsonElement sent) => (limit, sent.ValueKind) switch
    {
        (StringLengthAttribute length, JsonValueKind.String) when !length.IsValid(sent.GetString()) =>
            $"This has to have {length.MinimumLength} to {length.MaximumLength} characters.",
        (RangeAttribute range, JsonValueKind.Number) when !Within(range, sent.GetDouble()) =>
            string.Create(CultureInfo.InvariantCulture, $"This has to be from {range.Minimum} to {range.Maximum}."),
        (LengthAttribute length, JsonValueKind.Array) when sent.GetArrayLength() < length.MinimumLength || sent.GetArrayLength() > length.MaximumLength =>
            $"This has to have {length.MinimumLength} to {length.MaximumLength} elements.",
        (RegularExpressionAttribute pattern, JsonValueKind.String) when !pattern.IsValid(sent.GetString()) =>
            $"This has to have the form {pattern.Pattern}.",
        _ => null,
    };

    // The attribute itself would round 90.4 to the 90 that is allowed, and overflow on what fits no whole number.
    private static bool Within(RangeAttribute range, double number) =>
        number >= Convert.ToDouble(range.Minimum, CultureInfo.InvariantCulture) && number <= Convert.ToDouble(range.Maximum, CultureInfo.InvariantCulture);

    private static string Step(string pointer, string name) =>
        pointer + JsonFaults.Pointer([name.Length <= ForeignNameAtMost ? name : name[..ForeignNameAtMost] + "…"]);

    private void Add(string pointer, string detail)
    {
        if (faults.Count < FaultsNamedAtMost)
        {
            faults.Add(new Fault(pointer, detail));
        }
    }
}
