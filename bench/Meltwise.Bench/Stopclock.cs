using System.Diagnostics;

namespace Meltwise.Bench;

/// <summary>Medians of warm, in-process runs.</summary>
internal static class Stopclock
{
    /// <summary>Warms for about a second, then times single runs; the median of all of them, in seconds.</summary>
    public static double Median(Action work)
    {
        Stopwatch warm = Stopwatch.StartNew();
        int warmed = 0;
        while (warm.Elapsed.TotalSeconds < 1.5 || warmed < 5)
        {
            work();
            warmed++;
        }
        int runs = Math.Clamp((int)(2 * warmed), 7, 101);
        double[] seconds = new double[runs];
        for (int i = 0; i < runs; i++)
        {
            long start = Stopwatch.GetTimestamp();
            work();
            seconds[i] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        }
        Array.Sort(seconds);
        return seconds[runs / 2];
    }
}
