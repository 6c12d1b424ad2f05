using Meltwise.Casework.Planning;
using Meltwise.Publishing.Labels;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Planner;

/// <summary>The papers of an allocation, made from the address of the plan: the same seed gives the same codes again.</summary>
internal static class PlannerPapers
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/planner/{file}", Answer);

    private static IResult Answer(string file, HttpRequest request, Desk desk)
    {
        if (!desk.HasBench)
        {
            return Results.NotFound();
        }

        try
        {
            TypedPlan plan = TypedPlan.Read(new PlannerForm(request.Query), desk.Bench);
            Allocation allocation = Allocating.Of(plan.Allocation);
            string name = plan.Enquiry?.Name ?? "plan";
            return file switch
            {
                "bench-sheet.pdf" => Results.Bytes(AllocationPapers.BenchSheet(name, plan.Properties, allocation), "application/pdf", $"{name} bench sheet.pdf"),
                "labels.pdf" => Results.Bytes(AllocationPapers.Labels(name, plan.Properties, allocation), "application/pdf", $"{name} labels.pdf"),
                "cutting-list.csv" => Results.Bytes(AllocationPapers.CuttingList(allocation), "text/csv; charset=utf-8", $"{name} cutting list.csv"),
                "sealed-key.json" => Results.Bytes(AllocationPapers.SealedKey(allocation), "application/json", $"{name} sealed key.json"),
                _ => Results.NotFound(),
            };
        }
        catch (Exception told) when (told is PlannerFaultException or AllocationRefusedException)
        {
            return Results.Text(told.Message, "text/plain; charset=utf-8", statusCode: StatusCodes.Status409Conflict);
        }
    }
}
