using System.Buffers;
using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Workshop.Service.Http.CloudEvents;

/// <summary>
/// Tells whether two events say the same: SHA-256 over type, subject, time text, sequence and data as JSON values.
/// Members are sorted ordinally, texts compared as texts (escapes do not count), numbers as they were sent:
/// <c>1.0</c> and <c>1</c> are two things, since nobody knows what the sender meant by writing them differently.
/// </summary>
public static class ContentDigest
{
    public static ImmutableArray<byte> Of(string type, string? subject, string? timeText, string? sequence, JsonElement data)
    {
        var content = new ArrayBufferWriter<byte>(512);
        Text(content, type);
        Text(content, subject);
        Text(content, timeText);
        Text(content, sequence);
        Value(content, data);
        return [.. SHA256.HashData(content.WrittenSpan)];
    }

    private static void Value(ArrayBufferWriter<byte> content, JsonElement value)
    {
        content.Write([(byte)value.ValueKind]);
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                var members = value.EnumerateObject().Select(member => (member.Name, member.Value)).ToArray();
                Array.Sort(members, (one, other) => string.CompareOrdinal(one.Name, other.Name));
                Number(content, members.Length);
                foreach (var (name, member) in members)
                {
                    Text(content, name);
                    Value(content, member);
                }

                break;

            case JsonValueKind.Array:
                Number(content, value.GetArrayLength());
                foreach (var element in value.EnumerateArray())
                {
                    Value(content, element);
                }

                break;

            case JsonValueKind.String:
                Text(content, value.GetString());
                break;

            case JsonValueKind.Number:
                Text(content, value.GetRawText());
                break;

            case JsonValueKind.Undefined:
            case JsonValueKind.True:
            case JsonValueKind.False:
            case JsonValueKind.Null:
                break;

            default:
                throw new InvalidOperationException($"JSON has no {value.ValueKind}.");
        }
    }

    // The length goes before the bytes, so that "ab" + "c" and "a" + "bc" differ; -1 stands for nothing sent.
    private static void Text(ArrayBufferWriter<byte> content, string? text)
    {
        if (text is null)
        {
            Number(content, -1);
            return;
        }

        var length = Encoding.UTF8.GetByteCount(text);
        Number(content, length);
        Encoding.UTF8.GetBytes(text, content.GetSpan(length));
        content.Advance(length);
    }

    private static void Number(ArrayBufferWriter<byte> content, int number)
    {
        BinaryPrimitives.WriteInt32BigEndian(content.GetSpan(sizeof(int)), number);
        content.Advance(sizeof(int));
    }
}
