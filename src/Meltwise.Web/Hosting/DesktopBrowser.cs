using System.Diagnostics;

namespace Meltwise.Web.Hosting;

/// <summary>Opens the workbench in the person's browser, where the machine has a desktop; silently nothing elsewhere, since the address was announced.</summary>
internal static class DesktopBrowser
{
    public static void Open(Uri address)
    {
        if (Order(address) is not { } order)
        {
            return;
        }

        try
        {
            using Process? browser = Process.Start(order);
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidOperationException or PlatformNotSupportedException)
        {
            // A machine without a browser is no fault.
        }
    }

    // Without a display the opener of a Linux desktop would look for browsers of the terminal and complain of each one that is not there.
    private static ProcessStartInfo? Order(Uri address)
    {
        if (!OperatingSystem.IsLinux())
        {
            return new(address.ToString()) { UseShellExecute = true };
        }

        bool hasDisplay = new[] { "DISPLAY", "WAYLAND_DISPLAY" }.Any(name => !string.IsNullOrEmpty(Environment.GetEnvironmentVariable(name)));
        return hasDisplay ? new("/bin/sh", ["-c", "exec xdg-open \"$0\" </dev/null >/dev/null 2>&1", address.ToString()]) : null;
    }
}
