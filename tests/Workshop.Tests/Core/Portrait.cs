using System.Collections;
using System.Collections.Concurrent;
using System.Globalization;
using System.Reflection;
using System.Text;

namespace Workshop.Tests.Core;

/// <summary>
/// Everything a value says, as text, member by member: arrays inside records compare by identity, texts compare by content.
/// </summary>
public static class Portrait
{
    private static readonly ConcurrentDictionary<Type, PropertyInfo[]> Members = [];

    /// <param name="without">Members of the outermost value that are left out.</param>
    public static string Of(object? value, params string[] without)
    {
        var text = new StringBuilder();
        Draw(value, text, "", without);
        return text.ToString();
    }

    private static void Draw(object? value, StringBuilder text, string indent, string[] without)
    {
        switch (value)
        {
            case null:
                text.Append("null\n");
                break;
            case string said:
                text.Append(said).Append('\n');
                break;
            case IEnumerable many:
                text.Append('\n');
                foreach (var one in many)
                {
                    text.Append(indent).Append("- ");
                    Draw(one, text, indent + "  ", []);
                }

                break;
            case var thing when IsOurs(thing.GetType()):
                text.Append(thing.GetType().Name).Append('\n');
                foreach (var member in MembersOf(thing.GetType()).Where(one => !without.Contains(one.Name)))
                {
                    text.Append(indent).Append(member.Name).Append(": ");
                    Draw(member.GetValue(thing), text, indent + "  ", []);
                }

                break;
            default:
                text.Append(Convert.ToString(value, CultureInfo.InvariantCulture)).Append('\n');
                break;
        }
    }

    private static PropertyInfo[] MembersOf(Type type) => Members.GetOrAdd(type, one => one.GetProperties(BindingFlags.Public | BindingFlags.Instance));

    private static bool IsOurs(Type type) =>
        type is { IsEnum: false, Namespace: { } space } && (space.StartsWith("Workshop.Core", StringComparison.Ordinal) || type.Name.StartsWith("KeyValuePair", StringComparison.Ordinal))
        && type.Name is not "Label" and not "EventId";
}
