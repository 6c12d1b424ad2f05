using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>Pictures and what was found on them.</summary>
internal static class PictureTables
{
    public static RecordTable<Picture> Pictures { get; } = new("picture", "picture_version", "picture", 1, ReasonRule.WhenAltered,
        [
            new("name"), new("heat", RefersTo: "heat"), new("coupon"), new("mount"), new("field", Stored.Integer), new("plane"), new("magnification"), new("etch"), new("microscope"),
            new("micrometres_per_pixel", Stored.Real), new("scale_source"), new("sha256"), new("file_name"), new("format"), new("width", Stored.Integer), new("height", Stored.Integer),
            new("taken_on"), new("notes"), new("set_aside"),
        ],
        p =>
        [
            p.Name, p.Heat, p.Coupon, p.Mount, p.Field, p.Plane, p.Magnification, p.Etch, p.Microscope, p.MicrometresPerPixel, p.ScaleSource, p.Sha256, p.FileName, p.Format,
            p.Width, p.Height, StoredForms.Day(p.TakenOn), p.Notes, p.SetAside,
        ],
        c => new()
        {
            Name = (string)c[0]!,
            Heat = (string)c[1]!,
            Coupon = (string?)c[2],
            Mount = (string?)c[3],
            Field = (int?)c[4],
            Plane = (string?)c[5],
            Magnification = (string?)c[6],
            Etch = (string?)c[7],
            Microscope = (string?)c[8],
            MicrometresPerPixel = (double?)c[9],
            ScaleSource = (string?)c[10],
            Sha256 = (string)c[11]!,
            FileName = (string)c[12]!,
            Format = (string)c[13]!,
            Width = (int)c[14]!,
            Height = (int)c[15]!,
            TakenOn = StoredForms.ToDayOrNull(c[16]),
            Notes = (string?)c[17],
            SetAside = (string?)c[18],
        });

    // A measurement can be made again from its settings, so the storage asks no reason.
    public static RecordTable<KeptMeasurement> Measurements { get; } = new("picture measurement", "picture_measurement_version", null, 1, ReasonRule.Never,
        [new("picture", RefersTo: "picture"), new("settings"), new("result"), new("program"), new("made_at_utc")],
        m => [m.Picture, m.Settings, m.Result, m.Program, StoredForms.Instant(m.AtUtc)],
        c => new((string)c[0]!, (string)c[1]!, (string)c[2]!, (string)c[3]!, StoredForms.ToInstant(c[4])));
}
