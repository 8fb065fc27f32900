using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using SkiaSharp;

namespace Workshop.Service.Tests.Api.Takedown;

/// <summary>Photos made for tests: drawn here, with what a camera writes beside them.</summary>
internal static class Pictures
{
    /// <summary>Words that stand in the metadata of <see cref="FromACamera"/> and must not be anywhere in what is kept.</summary>
    public const string Camera = "Oldcombe Pocket 7";

    /// <summary>Left half red, right half blue.</summary>
    public static byte[] TwoHalves(SKEncodedImageFormat format = SKEncodedImageFormat.Jpeg, int width = 64, int height = 32)
    {
        using var picture = new SKBitmap(width, height);
        using (var canvas = new SKCanvas(picture))
        {
            canvas.Clear(SKColors.Red);
            using var blue = new SKPaint { Color = SKColors.Blue };
            canvas.DrawRect(width / 2f, 0, width / 2f, height, blue);
        }

        using var image = SKImage.FromBitmap(picture);
        return image.Encode(format, 95).ToArray();
    }

    public static string HashOf(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>
    /// A JPEG with an EXIF part (CIPA DC-008): the camera's name, how it was held, and a place on earth. Its first byte order is the
    /// small end first.
    /// </summary>
    /// <param name="orientation">Tag 0x0112; 6: the camera was turned to the left, the picture is turned to the right to stand.</param>
    public static byte[] FromACamera(ushort orientation = 6)
    {
        var jpeg = TwoHalves();
        var exif = Exif(orientation);
        var segment = new byte[4 + exif.Length];
        (segment[0], segment[1]) = (0xFF, 0xE1);
        BinaryPrimitives.WriteUInt16BigEndian(segment.AsSpan(2), (ushort)(exif.Length + 2));
        exif.CopyTo(segment, 4);
        return [.. jpeg[..2], .. segment, .. jpeg[2..]];
    }

    private static byte[] Exif(ushort orientation)
    {
        using var bytes = new MemoryStream();
        using var write = new BinaryWriter(bytes);
        var camera = Encoding.ASCII.GetBytes(Camera + "\0");
        write.Write("Exif\0\0"u8);
        write.Write("II*\0"u8);
        write.Write(8);
        const int FirstEnd = 8 + 2 + (3 * 12) + 4;
        var place = FirstEnd + camera.Length + (camera.Length % 2);

        // IFD 0: make, orientation, where the place stands.
        write.Write((ushort)3);
        Tag(write, 0x010F, 2, camera.Length, FirstEnd);
        Tag(write, 0x0112, 3, 1, orientation);
        Tag(write, 0x8825, 4, 1, place);
        write.Write(0);
        write.Write(camera);
        if (camera.Length % 2 == 1)
        {
            write.Write((byte)0);
        }

        // GPS: 47° 21' 7" north.
        write.Write((ushort)2);
        Tag(write, 0x0001, 2, 2, 'N');
        Tag(write, 0x0002, 5, 3, place + 2 + (2 * 12) + 4);
        write.Write(0);
        foreach (var number in new[] { 47, 1, 21, 1, 7, 1 })
        {
            write.Write(number);
        }

        write.Flush();
        return bytes.ToArray();
    }

    private static void Tag(BinaryWriter write, ushort tag, ushort type, int count, int value)
    {
        write.Write(tag);
        write.Write(type);
        write.Write(count);
        write.Write(value);
    }

    /// <summary>The header of a PNG that says how large it is, and no more than a few bytes of dots.</summary>
    public static byte[] PngClaiming(uint width, uint height)
    {
        var png = TwoHalves(SKEncodedImageFormat.Png);
        BinaryPrimitives.WriteUInt32BigEndian(png.AsSpan(16), width);
        BinaryPrimitives.WriteUInt32BigEndian(png.AsSpan(20), height);
        BinaryPrimitives.WriteUInt32BigEndian(png.AsSpan(29), Crc(png.AsSpan(12, 17)));
        return png;
    }

    /// <summary>A PNG that moves: the chunk acTL before its dots.</summary>
    public static byte[] MovingPng()
    {
        var png = TwoHalves(SKEncodedImageFormat.Png);
        var chunk = new byte[20];
        BinaryPrimitives.WriteUInt32BigEndian(chunk, 8);
        "acTL"u8.CopyTo(chunk.AsSpan(4));
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(8), 2);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(16), Crc(chunk.AsSpan(4, 12)));
        return [.. png[..33], .. chunk, .. png[33..]];
    }

    /// <summary>A WebP of two frames; each frame is the same still picture.</summary>
    public static byte[] MovingWebP()
    {
        var still = TwoHalves(SKEncodedImageFormat.Webp);
        var dots = still[12..];
        using var body = new MemoryStream();
        using var write = new BinaryWriter(body);
        write.Write("WEBPVP8X"u8);
        write.Write(10);
        write.Write([0x02, 0, 0, 0, 63, 0, 0, 31, 0, 0]);
        write.Write("ANIM"u8);
        write.Write(6);
        write.Write(new byte[6]);
        for (var i = 0; i < 2; i++)
        {
            write.Write("ANMF"u8);
            write.Write(16 + dots.Length);
            write.Write([0, 0, 0, 0, 0, 0, 63, 0, 0, 31, 0, 0, 100, 0, 0, 0]);
            write.Write(dots);
        }

        write.Flush();
        using var whole = new MemoryStream();
        using var file = new BinaryWriter(whole);
        file.Write("RIFF"u8);
        file.Write((int)body.Length);
        file.Write(body.ToArray());
        file.Flush();
        return whole.ToArray();
    }

    // PNG, annex D: CRC-32 over the chunk's type and data.
    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        var crc = 0xFFFFFFFFu;
        foreach (var one in bytes)
        {
            crc ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) == 1 ? 0xEDB88320u ^ (crc >> 1) : crc >> 1;
            }
        }

        return ~crc;
    }
}
