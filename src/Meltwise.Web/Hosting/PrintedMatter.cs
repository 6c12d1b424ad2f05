using System.Collections.Frozen;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Meltwise.Publishing.Figures;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Net.Http.Headers;

namespace Meltwise.Web.Hosting;

/// <summary>Style sheets, script and fonts, embedded in the assembly and served under an address that carries their digest, so that a browser may keep them for ever.</summary>
internal static class PrintedMatter
{
    private const string Prefix = "print/";
    private static readonly FrozenDictionary<string, byte[]> s_files = Load();

    /// <summary>Digest of all of it, eight hexadecimal digits.</summary>
    public static string Digest { get; } = ComputeDigest();

    /// <summary>The address of a file.</summary>
    public static string AddressOf(string name) => $"/print/{Digest}/{name}";

    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/print/{digest}/{**name}", Answer);

    private static IResult Answer(string digest, string name, HttpContext context)
    {
        if (!s_files.TryGetValue(name, out byte[]? bytes))
        {
            return Results.NotFound();
        }

        if (digest == Digest)
        {
            context.Response.Headers.CacheControl = "public, max-age=31536000, immutable";
        }

        return Results.Bytes(bytes, MediaTypeOf(name), entityTag: new EntityTagHeaderValue($"\"{Digest}\""));
    }

    private static string MediaTypeOf(string name) => Path.GetExtension(name) switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".woff2" => "font/woff2",
        ".svg" => "image/svg+xml",
        _ => "text/plain; charset=utf-8",
    };

    private static FrozenDictionary<string, byte[]> Load()
    {
        Assembly assembly = typeof(PrintedMatter).Assembly;
        var files = new SortedDictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (string resource in assembly.GetManifestResourceNames().Where(n => n.StartsWith(Prefix, StringComparison.Ordinal)))
        {
            using Stream stream = assembly.GetManifestResourceStream(resource)!;
            byte[] bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            files[resource[Prefix.Length..].Replace('\\', '/')] = bytes;
        }

        files["figure.js"] = Encoding.UTF8.GetBytes(FigureScript.JavaScript);
        files["figure-page.css"] = Encoding.UTF8.GetBytes(FigureScript.Css);
        return files.ToFrozenDictionary(StringComparer.Ordinal);
    }

    private static string ComputeDigest()
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach ((string _, byte[] bytes) in s_files.OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            hash.AppendData(bytes);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset())[..8];
    }
}
