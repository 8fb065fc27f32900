using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Beats.Recordings;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Recordings;

/// <summary>The body of a request as a file that is what its name says.</summary>
internal static class RecordingBody
{
    /// <summary>Whoever gets a file disposes of it; kept or not, it is gone from where it came.</summary>
    public static async Task<(ReceivedFile? File, ProblemHttpResult? Refusal)> Receive(string sha256, HttpRequest request, RecordingFiles files, CancellationToken cancel)
    {
        ReceivedFile? received;
        try
        {
            received = await files.Receive(request.Body, cancel);
        }
        catch (BadHttpRequestException failure)
        {
            return (null, failure.StatusCode == StatusCodes.Status413PayloadTooLarge ? RecordingProblems.Of(RecordingFault.TooLarge) : RequestBody.OfServer(failure));
        }

        var refusal = received switch
        {
            null => RecordingProblems.Of(RecordingFault.TooLarge),
            { Bytes: 0 } => RecordingProblems.Of(RecordingFault.Empty),
            _ when received.Sha256 != sha256 => Problems.Of(ProblemCatalogue.HashDiffers, "What came is not what its name says.", ("named", sha256), ("received", received.Sha256)),
            _ => null,
        };
        if (refusal is null)
        {
            return (received, null);
        }

        received?.Dispose();
        return (null, refusal);
    }
}
