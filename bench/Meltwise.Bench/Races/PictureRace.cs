using Meltwise.Imaging;
using Meltwise.Imaging.Reading;

namespace Meltwise.Bench.Races;

/// <summary>Flattening, threshold, parting and measurement of a micrograph of 12 megapixels with 20,000 particles, read beforehand.</summary>
internal sealed class PictureRace : IRace
{
    private MicrographFile? _file;
    private PictureResult? _result;

    public string Name => "picture";
    public string Work => "particles of a 12-megapixel micrograph, decoding not counted";
    public IReadOnlyList<string> Baselines => ["bench_image.py {inputs}"];
    public double? Wanted => 8;

    public void Prepare(string inputs) => _file = PictureReader.Open(Path.Combine(inputs, "micrograph.png"));

    public void Run() => _result = PictureMeasurement.Measure(_file!);

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double>
    {
        ["particles"] = _result!.Count,
        ["mean_diameter_px"] = _result.ParticleList.Average(p => p.EquivalentDiameter),
        ["area_fraction"] = _result.AreaFraction.Estimate,
    };

    // The baseline smooths before its threshold, which widens small particles by 0.2 px: its own score on the known particles says so.
    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double> { ["particles"] = 500, ["mean_diameter_px"] = 0.3, ["area_fraction"] = 0.006 };
}
