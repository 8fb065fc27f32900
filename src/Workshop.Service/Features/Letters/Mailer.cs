using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;
using NodaTime;
using Workshop.Service.Settings;

namespace Workshop.Service.Features.Letters;

/// <summary>What became of a letter at the mail server.</summary>
public enum MailOutcome
{
    Taken,

    /// <summary>Never for this address.</summary>
    Refused,

    /// <summary>Not now.</summary>
    Failed,
}

/// <summary>Hands letters to the mail server, one connection for each.</summary>
public sealed partial class Mailer(MailSettings settings, IClock clock, ILogger<Mailer> log)
{
    private static readonly TimeSpan AnswersWithin = TimeSpan.FromSeconds(30);

    public bool CanSend => settings.Host is not null;

    public async Task<MailOutcome> Send(OutgoingLetter letter, CancellationToken cancel)
    {
        if (settings.Host is not { } host)
        {
            return MailOutcome.Failed;
        }

        using var message = Message(letter);
        using var client = new SmtpClient { Timeout = (int)AnswersWithin.TotalMilliseconds };
        try
        {
            await client.ConnectAsync(host, settings.Port, settings.Security switch
            {
                "tls" => SecureSocketOptions.SslOnConnect,
                "none" => SecureSocketOptions.None,
                _ => SecureSocketOptions.StartTls,
            }, cancel);
            if (settings.User is { } user)
            {
                await client.AuthenticateAsync(user, settings.Password, cancel);
            }

            await client.SendAsync(message, cancel);
        }
        catch (SmtpCommandException refused) when ((int)refused.StatusCode >= 500 && refused.ErrorCode is SmtpErrorCode.RecipientNotAccepted or SmtpErrorCode.MessageNotAccepted)
        {
            WouldNotHaveIt(letter.Id, (int)refused.StatusCode);
            return MailOutcome.Refused;
        }
        catch (Exception failure) when (failure is ProtocolException or CommandException or AuthenticationException or IOException or System.Net.Sockets.SocketException or TimeoutException or ServiceNotConnectedException or ServiceNotAuthenticatedException or NotSupportedException)
        {
            CouldNotSend(letter.Id, failure.GetType().Name);
            return MailOutcome.Failed;
        }

        // It has it, whether or not it hears the good-bye.
        try
        {
            await client.DisconnectAsync(quit: true, CancellationToken.None);
        }
        catch (Exception failure) when (failure is ProtocolException or IOException or System.Net.Sockets.SocketException or TimeoutException or CommandException)
        {
            NoGoodBye(letter.Id);
        }

        return MailOutcome.Taken;
    }

    /// <summary>The id that every repeat of a letter carries (RFC 5322, section 3.6.4).</summary>
    internal static string MessageId(string letter, string from) => $"{letter}@{from[(from.LastIndexOf('@') + 1)..]}";

    private MimeMessage Message(OutgoingLetter letter)
    {
        var message = new MimeMessage { Subject = letter.Made.Subject, MessageId = MessageId(letter.Id, settings.From), Date = clock.GetCurrentInstant().ToDateTimeOffset() };
        message.From.Add(MailboxAddress.Parse(settings.From));
        message.To.Add(new MailboxAddress(letter.Name, letter.To));
        message.Headers.Add(HeaderId.ContentLanguage, letter.Language);

        // Machines that answer by themselves leave it unanswered (RFC 3834, section 5).
        message.Headers.Add("Auto-Submitted", "auto-generated");
        message.Body = new BodyBuilder { TextBody = letter.Made.Text, HtmlBody = letter.Made.Html }.ToMessageBody();
        return message;
    }

    // Never an address in a log: the letter's id leads to the customer for whoever may see them.
    [LoggerMessage(Level = LogLevel.Warning, Message = "The mail server will not have letter {Letter}: {Status}.")]
    private partial void WouldNotHaveIt(string letter, int status);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Letter {Letter} could not be sent ({Failure}); it is tried again.")]
    private partial void CouldNotSend(string letter, string failure);

    [LoggerMessage(Level = LogLevel.Debug, Message = "The mail server took letter {Letter} and did not say good-bye.")]
    private partial void NoGoodBye(string letter);
}
