namespace Workshop.Service.Features.Photos;

/// <summary>Sections <c>Photos</c> and <c>Limits</c> of the settings, as far as they are about photos.</summary>
/// <param name="Folder">Where photos lie; <c>photos</c> within Storage:Path where empty. Instances that share a PostgreSQL database share it too.</param>
/// <param name="BytesAtMost">Of one photo as it is sent.</param>
/// <param name="PixelsAtMost">Width times height; looked at before anything is unpacked. One pixel takes four bytes of memory.</param>
/// <param name="ThumbPixels">The longer side of the small picture.</param>
public sealed record PhotoSettings(string Folder, int BytesAtMost, int PixelsAtMost, int ThumbPixels);
