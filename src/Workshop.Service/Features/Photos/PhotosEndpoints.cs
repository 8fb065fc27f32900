using Microsoft.AspNetCore.Mvc;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;

namespace Workshop.Service.Features.Photos;

public static class PhotosEndpoints
{
    public static void MapPhotos(this IEndpointRouteBuilder routes)
    {
        var settings = routes.ServiceProvider.GetRequiredService<PhotoSettings>();
        var photo = routes.MapGroup("/v1/jobs/{label}/photos/{sha256}").WithTags("Photos");
        photo.MapPut("", KeepPhoto.Handle)
            .WithName("keepPhoto")
            .WithSummary("Keep a photo, named by the SHA-256 of its bytes as they are sent; it is drawn anew, upright and without place or camera")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.BodyTooLarge, ProblemCatalogue.MediaTypeNotTaken, ProblemCatalogue.HashDiffers, ProblemCatalogue.PhotoUnreadable, ProblemCatalogue.PhotoTooLarge)
            .WithMetadata(new RequestSizeLimitAttribute(settings.BytesAtMost))
            .Accepts<object>(Picture.Jpeg, Picture.Png, Picture.WebP, "application/octet-stream")
            .RequireOperation(Operation.KeepPhotos);
        photo.MapPatch("", ShowPhoto.Handle)
            .WithName("showPhoto")
            .WithSummary("Mark a photo for the customer's page, or no longer")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "forCustomer": true }""")
            .RequireOperation(Operation.ShowPhotos);
        photo.MapGet("", ReadPhoto.Whole)
            .WithName("readPhoto")
            .WithSummary("A photo as it is kept")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .Produces(StatusCodes.Status200OK, contentType: Picture.Jpeg, additionalContentTypes: [Picture.Png, Picture.WebP])
            .RequireOperation(Operation.ReadPhotos);
        photo.MapGet("thumb", ReadPhoto.Thumb)
            .WithName("readThumb")
            .WithSummary("The small picture of a photo")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .Produces(StatusCodes.Status200OK, contentType: Picture.Jpeg)
            .RequireOperation(Operation.ReadPhotos);
    }
}
