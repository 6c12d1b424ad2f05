using Meltwise.Casework.Picturing;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Viewing;
using Meltwise.Web.Hosting;
using Meltwise.Web.LongWork;

namespace Meltwise.Web.Pictures;

/// <summary>Keeps the newest measured pictures, so that outlines and tables of a page do not measure again. Measuring is long work beside the pages.</summary>
internal sealed class MeasuredPictures(ViewedPictures viewed, Workroom room)
{
    private const int MostKept = 8;

    // A particle with its pixels takes about half a kilobyte.
    private const int MostParticles = 2_500_000;

    // The levels of a very large picture are made first; they take about a third of the time.
    private const double ShareOfLevels = 0.3;

    private readonly Lock _lock = new();
    private readonly LinkedList<(string Subject, PictureResult Result)> _kept = [];

    /// <summary>The result of these settings when it is at hand.</summary>
    public PictureResult? Find(BenchKind bench, PictureAt picture, PictureQuery query)
    {
        lock (_lock)
        {
            string subject = SubjectOf(bench, picture, query);
            for (LinkedListNode<(string Subject, PictureResult Result)>? node = _kept.First; node is not null; node = node.Next)
            {
                if (node.Value.Subject == subject)
                {
                    _kept.Remove(node);
                    _kept.AddFirst(node);
                    return node.Value.Result;
                }
            }

            return null;
        }
    }

    /// <summary>Starts measuring, or gives the work that is already on it.</summary>
    public WorkInHand Start(BenchKind bench, PictureAt picture, PictureQuery query)
    {
        string subject = SubjectOf(bench, picture, query), backTo = $"{picture.Address}?{query.Query()}";
        return room.Start(bench, subject, $"measuring {(picture.Record is { } kept ? $"picture {kept.Name}" : picture.FileName)}", backTo, tools =>
        {
            PictureResult result = Measure(picture, query.Options(picture.Record?.MicrometresPerPixel), tools);
            Keep(subject, result);
            return null;
        });
    }

    /// <summary>The work on these settings, running or just ended.</summary>
    public WorkInHand? Work(BenchKind bench, PictureAt picture, PictureQuery query) => room.Find(bench, SubjectOf(bench, picture, query));

    private PictureResult Measure(PictureAt picture, MeasurementOptions options, WorkTools tools)
    {
        try
        {
            PictureTiles tiles = viewed.Tiles(picture, new Part(tools.Progress, 0, ShareOfLevels), tools.Cancel);
            bool whole = (long)tiles.Width * tiles.Height <= PictureLimits.Default.MaxWholePixels;
            options = options with { KeepMasks = whole };
            IProgress<StageProgress> progress = new Stages(new Part(tools.Progress, ShareOfLevels, 1));
            if (picture.Record is { } record)
            {
                return MeasureKept.Measure(tools.Bench, record, options, progress, tools.Cancel);
            }

            using MicrographFile file = PictureReader.Open(picture.Path);
            return PictureMeasurement.Measure(file, options, progress, tools.Cancel) with { File = picture.FileName };
        }
        catch (UnreadablePictureException fault)
        {
            throw new WorkRefusedException($"This is no picture that can be read: found {fault.Found}; expected {fault.Expected}.");
        }
        catch (Exception fault) when (fault is PictureRefusedException or UnusableAreaException)
        {
            throw new WorkRefusedException(fault.Message);
        }
    }

    private void Keep(string subject, PictureResult result)
    {
        lock (_lock)
        {
            _kept.AddFirst((subject, result));
            while (_kept.Count > 1 && (_kept.Count > MostKept || _kept.Sum(k => (long)k.Result.Count) > MostParticles))
            {
                _kept.RemoveLast();
            }
        }
    }

    // The file under a name never changes, a record's scale may.
    private static string SubjectOf(BenchKind bench, PictureAt picture, PictureQuery query) => $"picture/{bench}/{picture.Key}/{picture.Record?.MicrometresPerPixel}/{query.Query()}";

    private sealed class Part(IProgress<double> whole, double from, double to) : IProgress<double>
    {
        public void Report(double value) => whole.Report(from + ((to - from) * value));
    }

    private sealed class Stages(IProgress<double> progress) : IProgress<StageProgress>
    {
        public void Report(StageProgress value) => progress.Report(value.Share);
    }
}
