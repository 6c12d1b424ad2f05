using Meltwise.Web.Intake;

namespace Meltwise.Web.Pictures;

/// <summary>Keeps brought-in pictures while they are measured and looked at, for a day at most.</summary>
public sealed class PictureTray(string folder) : UploadTray(folder);
