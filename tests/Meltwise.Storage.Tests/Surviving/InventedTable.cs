using System.Globalization;

namespace Meltwise.Storage.Tests.Surviving;

/// <summary>A large invented coupon table; no check of truth.</summary>
internal static class InventedTable
{
    public static void Write(string path, int rows, bool wide)
    {
        Random random = new(20260506);
        using StreamWriter writer = new(path);
        writer.WriteLine("heat,coupon,source,grade,route,orientation,geometry,treatment,load," + (wide ? "hardness 1 [HRC],hardness 2 [HRC],hardness 3 [HRC]" : "hardness [HRC]") + ",impact energy [J]");
        for (int i = 0; i < rows; i++)
        {
            double hrc = 60 + (2 * random.NextDouble());
            string hardness = wide ? string.Create(CultureInfo.InvariantCulture, $"{hrc:0.0},{hrc + 0.1:0.0},{hrc - 0.1:0.0}") : hrc.ToString("0.0", CultureInfo.InvariantCulture);
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"H{i / 250},{i % 250},S{i / 250 % 20},AISI M4,powder,L,unnotched 7×10×55,T{i / 250 % 5},L{i / 20},{hardness},{30 + (10 * random.NextDouble()):0.00}"));
        }
    }
}
