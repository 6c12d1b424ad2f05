using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Picturing;

/// <summary>Corrects the record of a picture, or sets the picture aside. The original never changes.</summary>
public sealed class CorrectPicture(IBench bench)
{
    /// <summary>Stores the record as it should be.</summary>
    /// <param name="picture">The record; its original, format and size stay as they are.</param>
    /// <param name="hand">Who.</param>
    /// <param name="why">Reason, needed when something recorded is altered.</param>
    public Outcome<Picture> Run(Picture picture, Hand hand, string? why)
    {
        if (bench.FindPicture(picture.Name) is not { } was) return Outcome<Picture>.Refused($"There is no picture {picture.Name} on this bench.");
        if (bench.Heats().All(h => h.Name != picture.Heat)) return Outcome<Picture>.Refused($"Heat {picture.Heat} is not on this bench. Record it first.");
        if (picture.Coupon is { } coupon && bench.Coupons(picture.Heat).All(c => c.Name != coupon)) return Outcome<Picture>.Refused($"Heat {picture.Heat} has no coupon {coupon} on this bench.");
        if (picture.MicrometresPerPixel is { } scale && !(scale > 1e-6 && scale < 1e4)) return Outcome<Picture>.Refused("The scale lies between 0.000001 and 10000 µm per pixel.");
        Picture after = picture with { Sha256 = was.Sha256, FileName = was.FileName, Format = was.Format, Width = was.Width, Height = was.Height };
        bench.Commit(hand.By, why, [new BenchChange.PutPicture(after)]);
        return Outcome<Picture>.Stored(after);
    }

    /// <summary>Sets a picture aside with a reason, or takes it back in (null). It stays on the bench either way.</summary>
    public Outcome<Picture> SetAside(string name, string? reason, Hand hand)
    {
        if (bench.FindPicture(name) is not { } picture) return Outcome<Picture>.Refused($"There is no picture {name} on this bench.");
        if (reason is not null && string.IsNullOrWhiteSpace(reason)) return Outcome<Picture>.Refused("A picture is set aside for a reason. Say what is wrong with it.");
        Picture after = picture with { SetAside = reason?.Trim() };
        bench.Commit(hand.By, reason is null ? "taken in again" : $"set aside: {reason.Trim()}", [new BenchChange.PutPicture(after)]);
        return Outcome<Picture>.Stored(after);
    }
}
