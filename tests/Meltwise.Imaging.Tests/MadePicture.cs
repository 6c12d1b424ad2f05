using System.Text.Json;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Tests;

/// <summary>A made picture with its truth, the data strip and the bar taken out of the truth.</summary>
internal sealed record MadePicture(string Path, string File, JsonElement Json, LabelPicture Truth)
{
    public static MadePicture Read(string name)
    {
        string folder = LabelPicture.Folder("made-micrographs");
        JsonElement json = JsonDocument.Parse(System.IO.File.ReadAllText(System.IO.Path.Combine(folder, name + ".json"))).RootElement;
        string file = json.GetProperty("file").GetString()!;
        LabelPicture truth = LabelPicture.Read(System.IO.Path.Combine(folder, json.GetProperty("labels").GetString()!));
        if (json.TryGetProperty("scalebar", out JsonElement bar))
            truth = bar.GetProperty("kind").GetString() == "strip" ? truth.Top(bar.GetProperty("strip_rows")[0].GetInt32()) : truth.Without(Box(bar));
        return new(System.IO.Path.Combine(folder, file), file, json, truth);
    }

    public static PixelBox Box(JsonElement bar)
    {
        int[] b = [.. bar.GetProperty("box").EnumerateArray().Select(v => v.GetInt32())];
        return new(b[0], b[1], b[2] - b[0] + 1, b[3] - b[1] + 1);
    }
}
