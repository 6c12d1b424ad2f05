using Meltwise.Casework.Judging;
using Meltwise.Imaging;

namespace Meltwise.Cli.Commands;

/// <summary>The JSON of <c>measure</c>.</summary>
internal static class MeasureContract
{
    public static object Of(MeasurementResult result) => new
    {
        images = result.Images.Select(Image),
        pooled = result.Pooled,
        result.Notes,
    };

    public static object Of(ComparedPictures compared, IReadOnlyList<JudgedQuantity> judged, (double Low, double High) margin, int seed) => new
    {
        marginLow = margin.Low,
        marginHigh = margin.High,
        seed,
        order = compared.Order,
        quantities = judged.Select(q => new
        {
            q.Name,
            q.Ratio,
            ratioForMargin = q.Narrow is { } n ? new { lower = n.Lower, upper = n.Upper, level = 0.9 } : null,
            ratioWide = q.Wide is { } w ? new { lower = w.Lower, upper = w.Upper, level = 0.95 } : null,
            outcome = q.Outcome.Code(),
            q.Reason,
            q.Basis,
            reference = q.Reference,
            candidate = q.Candidate,
        }),
        equalAreaForLargest = compared.EqualArea,
        equalAreaUnit = compared.Reference.Images[0].InspectedAreaMm2 is null ? "px" : "mm2",
        reference = Heat(compared.Reference),
        candidate = Heat(compared.Candidate),
        commonSettings = new { compared.Settings.Polarity, compared.Settings.SmoothingPx, compared.Settings.MinimumAreaPx, rule = compared.Settings.Rule.ToString() },
        compared.Notes,
    };

    private static object Heat(PictureFields fields) => new
    {
        images = fields.Images.Select(Image),
        pooled = fields.Pooled,
        medianField = fields.MedianField,
        worstField = fields.WorstField,
    };

    private static object Image(PictureResult i) => new
    {
        i.File,
        i.Sha256,
        scaleUm = i.Scale.MicrometresPerPixel,
        scaleFrom = i.Scale.Source,
        i.ScaleBar,
        i.AreaFraction,
        thresholdBand = i.ThresholdBand,
        i.Count,
        i.CountInside,
        i.PerAreaMm2,
        i.DiameterUm,
        i.DiameterPx,
        i.Aspect,
        i.Clustering,
        i.MinimumDiameterUm,
        i.MinimumDiameterPx,
        i.InspectedAreaMm2,
        i.InspectedPixels,
        i.LeftOutPixels,
        i.Particles,
        i.Settings,
        i.Notes,
    };
}
