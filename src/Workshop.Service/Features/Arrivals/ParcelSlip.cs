using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Features.Labels;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Prints;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Arrivals;

/// <summary>
/// A sheet for the customer: how to pack, a slip to lie inside the parcel, and an address for its outside. Neither names what is inside, nor
/// the house that it goes to: a parcel is read by many on its way.
/// </summary>
public static class ParcelSlip
{
    // A4 (ISO 216).
    private const float Width = 210;
    private const float Height = 297;

    private const float Edge = 18;
    private const float Room = Width - (2 * Edge);
    private const float Letters = 3.9f;
    private const float LineHeight = 6.2f;
    private const float CodeSide = 34;

    // Common practice, but for what carriers and local rules say themselves.
    private static readonly Phrase[] HowToPack =
    [
        Phrase.Of("Push the crown in; stop the chronograph and set it to zero."),
        Phrase.Of("Wrap it softly on its own; nothing may move when you shake the box."),
        Phrase.Of("Put the slip inside. Keep straps, boxes and papers at home unless we asked for them."),
        Phrase.Of("Use a plain, firm box. Write nothing outside that says what is inside."),
        Phrase.Of("Send it insured for what it is worth and with a signature; keep the receipt."),
        Phrase.Of("With a battery, or old luminous paint: ask the carrier first; local rules apply."),
    ];

    public static async Task<Results<Printed, ProblemHttpResult>> Handle(string label, Caller caller, LanguageAsked language, Reader reader, CancellationToken cancel)
    {
        if (!ReadArrivals.TryRead(label, out var read, out var refusal))
        {
            return refusal!;
        }

        return await reader.Read<Results<Printed, ProblemHttpResult>>(connection =>
        {
            // A storefront prints slips for its own orders.
            if (ArrivalStore.Find(connection, caller.Site, read) is not { } arrival
                || (caller.Role == Role.Storefront && (arrival.Storefront is not { } of || StorefrontStore.Find(connection, caller.Site, of)?.Source != caller.Source)))
            {
                return ReadArrivals.NoArrival();
            }

            var settings = ShopDocuments.Newest(connection, caller.Site, ShopKinds.Of<SettingsDocument>().Name) is { } stored
                ? JsonSerializer.Deserialize<SettingsDocument>(stored.Document, WorkshopJson.Options) : null;
            return new Printed(Pdf(read, arrival.OrderRef, settings?.Address, language.Best), Print.PdfType, $"slip-{read}.pdf");
        }, cancel);
    }

    internal static byte[] Pdf(Label label, string? order, string? address, Language language)
    {
        var title = Phrase.Of("For your parcel").In(language);
        return Print.Pdf(Width, Height, title, [drawing => Draw(drawing, title, LabelPrint.Of(label, "", language), order, address, language)]);
    }

    private static void Draw(Drawing drawing, string title, LabelPrint label, string? order, string? address, Language language)
    {
        drawing.Text(title, Edge, Edge + 8, 8, bold: true);
        var line = Edge + 20;
        string[] lines = [.. HowToPack.Index().Select(one => $"{one.Index + 1}  {one.Item.In(language)}")];
        var letters = lines.Min(text => Print.Fit(text, Room, Letters));
        foreach (var text in lines)
        {
            drawing.Text(text, Edge, line, letters);
            line += LineHeight;
        }

        line = Cut(drawing, line + 6, Phrase.Of("Inside the parcel").In(language));
        SquareCode.Draw(drawing, label.Label.ToString(), Edge, line, CodeSide);
        var beside = Edge + CodeSide + 8;
        drawing.Text(label.Halves, beside, line + 14, Print.Fit(label.Halves, Room - CodeSide - 8, 14, bold: true), bold: true);
        if (order is not null)
        {
            var text = Phrase.Of("Order {0}", order).In(language);
            drawing.Text(text, beside, line + 24, Print.Fit(text, Room - CodeSide - 8, 5));
        }

        line = Cut(drawing, line + CodeSide + 10, Phrase.Of("Outside, nothing else").In(language));
        foreach (var part in (address ?? "").Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Append(label.Halves))
        {
            drawing.Text(part, Edge, line + 6, Print.Fit(part, Room, 6.5f));
            line += 10;
        }
    }

    private static float Cut(Drawing drawing, float top, string what)
    {
        for (var left = Edge; left < Width - Edge; left += 4)
        {
            drawing.Line(left, top, left + 2, top, 0.25f);
        }

        drawing.Text(what, Edge, top + 6, 3.2f);
        return top + 11;
    }
}
