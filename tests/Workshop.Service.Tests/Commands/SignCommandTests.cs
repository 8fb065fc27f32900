using System.Text;
using Workshop.Service.Commands;

namespace Workshop.Service.Tests.Commands;

[Collection(nameof(OwnsTheConsole))]
public sealed class SignCommandTests : IDisposable
{
    private const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    private readonly string file = Path.GetTempFileName();

    public void Dispose() => File.Delete(file);

    // Standard Webhooks 1.0.0, tests of the reference libraries.
    [Fact]
    public async Task The_published_message_gets_its_published_headers()
    {
        await File.WriteAllTextAsync(file, """{"test": 2432232314}""");

        var (code, said) = await Run("sign", file, "--secret", Secret, "--id", "msg_p5jXN8AQM9LWM0D4loKWxJek", "--timestamp", "1614265330");

        Assert.Equal(WorkshopCommand.Well, code);
        Assert.Equal(
            ["webhook-id: msg_p5jXN8AQM9LWM0D4loKWxJek", "webhook-timestamp: 1614265330", "webhook-signature: v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE="],
            said.TrimEnd().Split('\n').Select(line => line.TrimEnd('\r')));
    }

    [Fact]
    public async Task Without_id_and_moment_it_takes_a_new_one_and_now()
    {
        var (_, first) = await Run("sign", file, "--secret", Secret);
        var (_, second) = await Run("sign", file, "--secret", Secret);

        Assert.Matches("webhook-id: msg_[0-9a-f]{32}", first);
        Assert.NotEqual(first.Split('\n')[0], second.Split('\n')[0]);
    }

    [Theory]
    [InlineData("--secret", "whsec_c2hvcnQ=")]
    [InlineData("--secret", Secret, "--id", "msg.1")]
    [InlineData("--secret", Secret, "--timestamp", "-1")]
    public async Task What_cannot_be_signed_with_is_not_begun_with(params string[] options) =>
        Assert.Equal(WorkshopCommand.NotBegun, (await Run(["sign", file, .. options])).Code);

    [Fact]
    public async Task A_file_that_is_not_there_is_said_so() =>
        Assert.Equal(WorkshopCommand.NotBegun, (await Run("sign", file + ".missing", "--secret", Secret)).Code);

    private static async Task<(int Code, string Said)> Run(params string[] arguments)
    {
        var before = (Console.Out, Console.Error);
        using var said = new StringWriter(new StringBuilder());
        using var complained = new StringWriter();
        Console.SetOut(said);
        Console.SetError(complained);
        try
        {
            return (await WorkshopCommand.Run(arguments), said.ToString());
        }
        finally
        {
            Console.SetOut(before.Out);
            Console.SetError(before.Error);
        }
    }
}
