using System.CommandLine;
using Meltwise.Casework.Studying;

namespace Meltwise.Cli.Commands;

/// <summary>How a study is told on the command line: <c>by=treatment; control=punch; where=orientation=L; margin=15%</c>.</summary>
internal static class StudyOptions
{
    /// <summary>The option of a report that computes a study and keeps it with the enquiry.</summary>
    public static Option<string?> OfReport() => new("--study")
    {
        Description = "Compute a treatment study of the bench and keep it with the enquiry: \"by=treatment; control=punch; where=route=powder; margin=0.80..1.25\". \"none\" takes the kept one out.",
    };

    /// <summary>Reads the terms of a study.</summary>
    /// <exception cref="Fault">A term is unknown or not given.</exception>
    public static StudyChoice Read(string text, string property)
    {
        StudyChoice choice = new() { Property = property, By = ["treatment"], Margin = "0.80..1.25" };
        Dictionary<string, string> where = [];
        foreach (string term in text.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            (string name, string value) = Condition(term);
            switch (name)
            {
                case "by": choice = choice with { By = Parts(value, ',') }; break;
                case "control": choice = choice with { Control = value }; break;
                case "order": choice = choice with { Order = Parts(value, '|') }; break;
                case "levels": choice = choice with { LevelValues = value }; break;
                case "margin": choice = choice with { Margin = value }; break;
                case "property": choice = choice with { Property = value }; break;
                case "where":
                    (string column, string wanted) = Condition(value);
                    where[column] = wanted;
                    break;
                default: throw Fault.Usage($"--study: \"{name}\" is no term of a study; by, control, order, levels, where, margin and property are.");
            }
        }
        return choice with { Where = where };
    }

    /// <summary>Parts of a list.</summary>
    public static string[] Parts(string? text, char separator) => (text ?? "").Split(separator, StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    /// <summary>A name and its value, parted by the first equals sign.</summary>
    /// <exception cref="Fault">There is no equals sign.</exception>
    public static (string Name, string Value) Condition(string text)
    {
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        return equals > 0 ? (text[..equals].Trim(), text[(equals + 1)..].Trim()) : throw Fault.Usage($"\"{text}\" has no equals sign; write orientation=L.");
    }
}
