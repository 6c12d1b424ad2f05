using System.Data;
using System.Data.Common;

namespace Meltwise.Storage;

/// <summary>Short forms for ADO.NET commands.</summary>
internal static class Queries
{
    public static DbCommand Command(this DbConnection connection, string sql, DbTransaction? transaction = null)
    {
        DbCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.Transaction = transaction;
        return command;
    }

    public static DbParameter Add(this DbCommand command, string name, DbType type, object? value = null)
    {
        DbParameter parameter = command.CreateParameter();
        parameter.ParameterName = name;
        parameter.DbType = type;
        parameter.Value = value ?? DBNull.Value;
        command.Parameters.Add(parameter);
        return parameter;
    }

    public static void Run(this DbConnection connection, string sql, DbTransaction? transaction = null)
    {
        using DbCommand command = connection.Command(sql, transaction);
        command.ExecuteNonQuery();
    }

    public static long Number(this DbConnection connection, string sql)
    {
        using DbCommand command = connection.Command(sql);
        return Convert.ToInt64(command.ExecuteScalar(), System.Globalization.CultureInfo.InvariantCulture);
    }

    public static string? TextOrNull(this DbDataReader row, int at) => row.IsDBNull(at) ? null : row.GetString(at);

    public static int? IntegerOrNull(this DbDataReader row, int at) => row.IsDBNull(at) ? null : row.GetInt32(at);

    public static double? RealOrNull(this DbDataReader row, int at) => row.IsDBNull(at) ? null : row.GetDouble(at);
}
