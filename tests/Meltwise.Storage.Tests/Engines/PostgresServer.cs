using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Meltwise.Storage.Tests.Engines;
using Npgsql;
using Xunit;

[assembly: AssemblyFixture(typeof(PostgresServer))]

namespace Meltwise.Storage.Tests.Engines;

/// <summary>A PostgreSQL server of this test run alone: its own folder, a free loopback port, stopped and removed at the end. Runs as an unprivileged user.</summary>
public sealed class PostgresServer : IDisposable
{
    private readonly string _folder = Path.Combine(Path.GetTempPath(), $"meltwise-postgres-{Environment.ProcessId}-{Guid.NewGuid():N}");
    private readonly string _programs;
    private readonly string? _runAs = Environment.UserName == "root" ? "postgres" : null;
    private readonly int _port = FreePort();
    private int _databases;

    public PostgresServer()
    {
        _programs = Directory.Exists("/usr/lib/postgresql")
            ? Directory.EnumerateDirectories("/usr/lib/postgresql").Order(StringComparer.Ordinal).Select(d => Path.Combine(d, "bin")).Last(d => File.Exists(Path.Combine(d, "initdb")))
            : throw new InvalidOperationException("These tests need PostgreSQL (Debian package postgresql); tests/prepare installs it.");
        Directory.CreateDirectory(_folder);
        if (_runAs is not null) Run("/usr/bin/chown", _runAs, _folder);
        As("initdb", "-D", Data, "-U", "lab", "--auth=trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync");
        As("pg_ctl", "-D", Data, "-l", Path.Combine(_folder, "log"), "-w", "-o", string.Create(CultureInfo.InvariantCulture, $"-p {_port} -c listen_addresses=127.0.0.1 -k {_folder} -c fsync=off"), "start");
    }

    private string Data => Path.Combine(_folder, "data");

    /// <summary>Connection string of a new, empty database.</summary>
    public string NewDatabase()
    {
        string name = string.Create(CultureInfo.InvariantCulture, $"bench{Interlocked.Increment(ref _databases)}");
        using NpgsqlConnection connection = new(ConnectionString("postgres"));
        connection.Open();
        using NpgsqlCommand command = new($"CREATE DATABASE {name}", connection);
        command.ExecuteNonQuery();
        return ConnectionString(name);
    }

    public void Dispose()
    {
        As("pg_ctl", "-D", Data, "-m", "immediate", "-w", "stop");
        Directory.Delete(_folder, recursive: true);
    }

    private string ConnectionString(string database) =>
        string.Create(CultureInfo.InvariantCulture, $"Host=127.0.0.1;Port={_port};Database={database};Username=lab;Pooling=false");

    private void As(string program, params string[] arguments)
    {
        string path = Path.Combine(_programs, program);
        if (_runAs is null) Run(path, arguments);
        else Run("/usr/sbin/runuser", ["-u", _runAs, "--", path, .. arguments]);
    }

    private static void Run(string program, params string[] arguments)
    {
        // Output is not redirected: the server started by pg_ctl would keep the pipe open.
        ProcessStartInfo start = new("/bin/sh", ["-c", "exec \"$@\" >/dev/null 2>&1", "sh", program, .. arguments]) { WorkingDirectory = "/tmp" };
        using Process process = Process.Start(start)!;
        process.WaitForExit();
        if (process.ExitCode != 0) throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
    }

    private static int FreePort()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
