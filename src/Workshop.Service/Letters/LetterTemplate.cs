using System.Diagnostics.CodeAnalysis;
using System.Text.Encodings.Web;
using System.Text.RegularExpressions;
using System.Text.Unicode;
using Fluid;
using Fluid.Ast;

namespace Workshop.Service.Letters;

/// <summary>One text with places for values. In HTML every value is encoded where it is put in.</summary>
public sealed partial class LetterTemplate
{
    private static readonly FluidParser Parser = new();
    private static readonly TemplateOptions Options = new();
    private static readonly HtmlEncoder Html = HtmlEncoder.Create(UnicodeRanges.All);

    private readonly IFluidTemplate template;

    private LetterTemplate(IFluidTemplate template)
    {
        this.template = template;
        var names = new NamesOfTemplate();
        names.VisitTemplate(template);
        Names = names.Found;
    }

    /// <summary>The values that it asks for.</summary>
    public IReadOnlySet<string> Names { get; }

    /// <exception cref="ArgumentException">The text is no template.</exception>
    public static LetterTemplate Read(string source) => TryRead(source, out var template, out var error) ? template : throw new ArgumentException(error, nameof(source));

    public static bool TryRead(string source, [NotNullWhen(true)] out LetterTemplate? template, [NotNullWhen(false)] out string? error)
    {
        template = Parser.TryParse(source, out var parsed, out error) ? new LetterTemplate(parsed) : null;
        return template is not null;
    }

    /// <summary>As plain text; paragraphs that hold nothing leave no gap.</summary>
    public string AsText(IReadOnlyDictionary<string, object> values) => Gaps().Replace(template.Render(With(values), NullEncoder.Default).Trim(), "\n\n");

    /// <summary>As HTML.</summary>
    public string AsHtml(IReadOnlyDictionary<string, object> values) => BlankLines().Replace(template.Render(With(values), Html).Trim(), "\n");

    /// <summary>As one line.</summary>
    public string AsLine(IReadOnlyDictionary<string, object> values) => Blanks().Replace(template.Render(With(values), NullEncoder.Default).Trim(), " ");

    private static TemplateContext With(IReadOnlyDictionary<string, object> values)
    {
        var context = new TemplateContext(Options);
        foreach (var (name, value) in values)
        {
            context.SetValue(name, value);
        }

        return context;
    }

    [GeneratedRegex(@"\n[ \t]*\n\s*")]
    private static partial Regex Gaps();

    [GeneratedRegex(@"\n\s*\n")]
    private static partial Regex BlankLines();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();

    private sealed class NamesOfTemplate : AstVisitor
    {
        private readonly HashSet<string> local = new(StringComparer.Ordinal) { "forloop" };

        public HashSet<string> Found { get; } = new(StringComparer.Ordinal);

        protected override Statement VisitForStatement(ForStatement forStatement)
        {
            local.Add(forStatement.Identifier);
            return base.VisitForStatement(forStatement);
        }

        protected override Statement VisitAssignStatement(AssignStatement assignStatement)
        {
            local.Add(assignStatement.Identifier);
            return base.VisitAssignStatement(assignStatement);
        }

        protected override Expression VisitMemberExpression(MemberExpression memberExpression)
        {
            if (memberExpression.Segments is [IdentifierSegment first, ..] && !local.Contains(first.Identifier))
            {
                Found.Add(first.Identifier);
            }

            return base.VisitMemberExpression(memberExpression);
        }
    }
}
