using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>Gives out a new label, for a thing of the house or blank. No label is given out twice.</summary>
public static class DrawLabel
{
    public static Task<Once<Results<Made<LabelView>, ProblemHttpResult>>> Handle(JsonBody<DrawLabelBody> body, Once once, Caller caller, Writer writer) =>
        once.Do(writer, body.Bytes, turn => Draw(turn, body.Value));

    private static Results<Made<LabelView>, ProblemHttpResult> Draw(Turn turn, DrawLabelBody wanted)
    {
        if (wanted.Names is { } said && NameLabel.Faults(wanted.Kind, said, turn.Rules).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var names = wanted.Names ?? "";
        var label = turn.DrawLabel(wanted.Kind, _ => names);
        return Answer.Made($"/v1/labels/{label}", 0, LabelView.Of(label, names, job: null));
    }
}
