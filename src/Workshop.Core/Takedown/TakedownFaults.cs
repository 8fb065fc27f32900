using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Takedown;

/// <summary>What is wrong in an event of a takedown alone, whatever the job's state.</summary>
public static class TakedownFaults
{
    /// <summary>No movement has as many parts.</summary>
    public const int StepAtMost = 9_999;

    /// <summary>Of one step or finding.</summary>
    public const int PhotosAtMost = 20;

    private const int WordsAtMost = 400;
    private const int NameAtMost = 60;

    public static IEnumerable<Fault> Of(WorkshopEvent one) => one switch
    {
        TakedownStep step => Step(step)
            .Concat(Written("/text", step.Text, WordsAtMost))
            .Concat(Named("/part", step.Part))
            .Concat(LetDownIsNoPart(step))
            .Concat(Needs(step))
            .Concat(Screws(step.Screws ?? []))
            .Concat(step.KeptWith is { } kept ? Written("/keptWith/member", kept.Member, NameAtMost).Concat(Written("/keptWith/group", kept.Group, NameAtMost)) : []),
        TakedownLetDown letDown => Step(letDown).Concat(letDown.Text is { } text ? Written("/text", text, WordsAtMost) : []),
        FindingRecorded found => Written("/condition", found.Condition, WordsAtMost).Concat(Named("/part", found.Part)).Concat(Photos(found.Photos ?? [])),
        InspectionRecorded seen => Named("/part", seen.Part).Concat(seen.Note is { } note ? Written("/note", note, WordsAtMost) : []),
        _ => [],
    };

    private static IEnumerable<Fault> Step(TakedownEvent told)
    {
        if (told.Step is < 1 or > StepAtMost || decimal.Round(told.Step, 4) != told.Step)
        {
            yield return new Fault("/step", Phrase.Of("A step is numbered from 1 to {0}, with at most four decimals.", StepAtMost));
        }

        foreach (var fault in Photos(told.Photos ?? []).Concat(Named("/caution", told.Caution, 200)).Concat(Named("/holder", told.Holder)).Concat(Named("/tray", told.Tray)))
        {
            yield return fault;
        }
    }

    private static IEnumerable<Fault> LetDownIsNoPart(TakedownStep step)
    {
        if (step.Part == OrderRule.LetDown)
        {
            yield return new Fault("/part", Phrase.Of("The let-down is an event of its own: takedown.let-down."));
        }
    }

    private static IEnumerable<Fault> Photos(ImmutableArray<string> photos)
    {
        if (photos.Length > PhotosAtMost)
        {
            yield return new Fault("/photos", Phrase.Of("There are at most {0} photos here.", PhotosAtMost));
        }

        foreach (var (i, photo) in photos.Index())
        {
            if (!HashName.Is(photo))
            {
                yield return new Fault($"/photos/{i}", Phrase.Of("A photo is named by the SHA-256 of its bytes: 64 hexadecimal digits, letters small."));
            }
            else if (photos.IndexOf(photo) < i)
            {
                yield return new Fault($"/photos/{i}", Phrase.Of("This photo is named twice."));
            }
        }
    }

    private static IEnumerable<Fault> Needs(TakedownStep step)
    {
        foreach (var (i, need) in (step.Needs ?? []).Index())
        {
            foreach (var fault in Written($"/needs/{i}", need, NameAtMost))
            {
                yield return fault;
            }

            if (need == step.Part)
            {
                yield return new Fault($"/needs/{i}", Phrase.Of("Nothing comes out before itself."));
            }
        }
    }

    private static IEnumerable<Fault> Screws(ImmutableArray<ScrewNote> screws) =>
        screws.Index().SelectMany(one => ScrewTable.Faults(one.Item, $"/screws/{one.Index}"));

    private static IEnumerable<Fault> Named(string pointer, string? name, int atMost = NameAtMost) => name is null ? [] : Written(pointer, name, atMost);

    private static IEnumerable<Fault> Written(string pointer, string text, int atMost)
    {
        if (string.IsNullOrWhiteSpace(text) || text.Length > atMost)
        {
            yield return new Fault(pointer, Phrase.Of("This is 1 to {0} characters.", atMost));
        }
    }
}
