using Workshop.Core.Letters;
using Workshop.Core.Parties;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;

namespace Workshop.Service.Features.Letters;

/// <summary>What may be written to a customer.</summary>
public static class LetterReaders
{
    /// <param name="stored">Null for one that was erased.</param>
    /// <param name="writtenToOn">They had a letter on this day already.</param>
    public static LetterReader Of(string id, StoredCustomer? stored, NodaTime.LocalDate? writtenToOn = null)
    {
        var contact = stored is null ? ContactRule.Normal : Word.Read<ContactRule>(stored.Contact) ?? ContactRule.Normal;
        return new LetterReader
        {
            Customer = id,
            HasEmail = !string.IsNullOrWhiteSpace(stored?.Email),
            Allows = stored is null ? [] : [.. stored.ReadConsents().Where(one => one.Channels.Contains(ConsentChannel.Email)).Select(one => one.Kind == ConsentKind.Care ? LetterPermission.Care : LetterPermission.Job)],
            NoContact = contact == ContactRule.None || (contact == ContactRule.OnlyBy && stored?.ContactBy != Word.Of(ConsentChannel.Email)),
            Deceased = stored?.DeceasedOn is not null,
            CameBack = stored?.ReadUnreachable().Contains(PartyWay.Email) == true,
            WrittenToOn = writtenToOn,
        };
    }
}
