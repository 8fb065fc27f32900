using System.Buffers.Binary;
using SkiaSharp;

namespace Workshop.Service.Features.Photos;

/// <summary>A photo as it is kept: drawn anew from its dots, so that nothing else that came with it is left.</summary>
/// <param name="Bytes">Of the same media type as it was sent.</param>
/// <param name="Thumb">The same, small, as JPEG.</param>
public sealed record KeptPicture(string MediaType, byte[] Bytes, int Width, int Height, byte[] Thumb);

/// <summary>Why a photo is not kept.</summary>
internal enum PictureFault
{
    /// <summary>Neither JPEG nor PNG nor WebP, whatever its header says.</summary>
    OtherKind,

    /// <summary>It ends too early, moves, or is broken.</summary>
    Unreadable,

    TooLarge,
}

/// <summary>
/// Reads photos that strangers may have made: what it is by its first bytes, how large before anything is unpacked, then drawn upright
/// and packed anew. Place, camera, names and the small picture of the camera do not come along.
/// </summary>
public static class Picture
{
    public const string Jpeg = "image/jpeg";
    public const string Png = "image/png";
    public const string WebP = "image/webp";

    /// <summary>Of JPEG and WebP; a loss that nobody sees on a bridge's scratches. From memory.</summary>
    private const int Quality = 90;

    /// <summary>The media type by the first bytes, or null for anything else.</summary>
    public static string? Sniffed(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) ? Jpeg
        : bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]) ? Png
        : bytes.Length >= 12 && bytes.StartsWith("RIFF"u8) && bytes[8..12].SequenceEqual("WEBP"u8) ? WebP
        : null;

    /// <param name="pixelsAtMost">Width times height.</param>
    /// <param name="thumbPixels">The longer side of the small picture.</param>
    internal static (KeptPicture? Kept, PictureFault? Fault) Keep(byte[] bytes, int pixelsAtMost, int thumbPixels)
    {
        if (Sniffed(bytes) is not { } mediaType)
        {
            return (null, PictureFault.OtherKind);
        }

        using var data = SKData.CreateCopy(bytes);
        using var codec = SKCodec.Create(data);
        if (codec is null || codec.EncodedFormat != FormatOf(mediaType) || codec.Info.Width < 1 || codec.Info.Height < 1)
        {
            return (null, PictureFault.Unreadable);
        }

        if ((long)codec.Info.Width * codec.Info.Height > pixelsAtMost)
        {
            return (null, PictureFault.TooLarge);
        }

        if (codec.FrameCount > 1 || (mediaType == Png && MovesAsPng(bytes)))
        {
            return (null, PictureFault.Unreadable);
        }

        using var colours = SKColorSpace.CreateSrgb();
        using var drawn = new SKBitmap(new SKImageInfo(codec.Info.Width, codec.Info.Height, SKColorType.Rgba8888, codec.Info.AlphaType == SKAlphaType.Opaque ? SKAlphaType.Opaque : SKAlphaType.Premul, colours));
        if (drawn.GetPixels() == IntPtr.Zero || codec.GetPixels(drawn.Info, drawn.GetPixels()) != SKCodecResult.Success)
        {
            return (null, PictureFault.Unreadable);
        }

        using var upright = Upright(drawn, codec.EncodedOrigin);
        using var whole = Packed(upright, FormatOf(mediaType));
        using var small = Small(upright, thumbPixels);
        using var thumb = Packed(small, SKEncodedImageFormat.Jpeg);
        return whole is null || thumb is null
            ? (null, PictureFault.Unreadable)
            : (new KeptPicture(mediaType, whole.ToArray(), upright.Width, upright.Height, thumb.ToArray()), null);
    }

    private static SKEncodedImageFormat FormatOf(string mediaType) => mediaType switch
    {
        Jpeg => SKEncodedImageFormat.Jpeg,
        Png => SKEncodedImageFormat.Png,
        _ => SKEncodedImageFormat.Webp,
    };

    private static SKData? Packed(SKBitmap picture, SKEncodedImageFormat format)
    {
        using var image = SKImage.FromBitmap(picture);
        return image.Encode(format, Quality);
    }

    private static SKBitmap Small(SKBitmap picture, int longest)
    {
        var scale = Math.Min(1.0, longest / (double)Math.Max(picture.Width, picture.Height));
        var info = new SKImageInfo(Math.Max(1, (int)Math.Round(picture.Width * scale)), Math.Max(1, (int)Math.Round(picture.Height * scale)), SKColorType.Rgba8888, SKAlphaType.Opaque);
        var small = new SKBitmap(info);
        using var canvas = new SKCanvas(small);
        using var image = SKImage.FromBitmap(picture);
        canvas.Clear(SKColors.White);
        canvas.DrawImage(image, new SKRect(0, 0, info.Width, info.Height), new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        return small;
    }

    // The camera writes how it was held beside the dots (EXIF, CIPA DC-008, tag 0x0112); drawn anew, the dots themselves stand upright.
    private static SKBitmap Upright(SKBitmap picture, SKEncodedOrigin origin)
    {
        var (width, height) = ((float)picture.Width, (float)picture.Height);
        SKMatrix? turned = origin switch
        {
            SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
            SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
            SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
            SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
            SKEncodedOrigin.RightTop => new SKMatrix(0, -1, height, 1, 0, 0, 0, 0, 1),
            SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, height, -1, 0, width, 0, 0, 1),
            SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, width, 0, 0, 1),
            _ => null,
        };
        if (turned is not { } matrix)
        {
            return picture.Copy();
        }

        var across = origin is SKEncodedOrigin.LeftTop or SKEncodedOrigin.RightTop or SKEncodedOrigin.RightBottom or SKEncodedOrigin.LeftBottom;
        var upright = new SKBitmap(picture.Info.WithSize(across ? picture.Height : picture.Width, across ? picture.Width : picture.Height));
        using var canvas = new SKCanvas(upright);
        canvas.Clear(SKColors.Transparent);
        canvas.SetMatrix(matrix);
        canvas.DrawBitmap(picture, 0, 0);
        return upright;
    }

    // A PNG that moves has the chunk acTL before its first dots (PNG, third edition).
    private static bool MovesAsPng(ReadOnlySpan<byte> bytes)
    {
        for (var at = 8L; at + 8 <= bytes.Length;)
        {
            var kind = bytes.Slice((int)at + 4, 4);
            if (kind.SequenceEqual("acTL"u8))
            {
                return true;
            }

            if (kind.SequenceEqual("IDAT"u8))
            {
                return false;
            }

            at += 12L + BinaryPrimitives.ReadUInt32BigEndian(bytes[(int)at..]);
        }

        return false;
    }
}
