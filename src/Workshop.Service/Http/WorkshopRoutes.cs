using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Arrivals;
using Workshop.Service.Features.BackUps;
using Workshop.Service.Features.BenchEvents;
using Workshop.Service.Features.Changes;
using Workshop.Service.Features.Charts;
using Workshop.Service.Features.Cleaning;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Devices;
using Workshop.Service.Features.Disputes;
using Workshop.Service.Features.Events;
using Workshop.Service.Features.Extracts;
using Workshop.Service.Features.Feeds;
using Workshop.Service.Features.Gates;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Labels;
using Workshop.Service.Features.Letters;
using Workshop.Service.Features.Money;
using Workshop.Service.Features.Oneself;
using Workshop.Service.Features.Owners;
using Workshop.Service.Features.Parties;
using Workshop.Service.Features.Parts;
using Workshop.Service.Features.People;
using Workshop.Service.Features.PersonalData;
using Workshop.Service.Features.Photos;
using Workshop.Service.Features.Promises;
using Workshop.Service.Features.PublicPages;
using Workshop.Service.Features.Quotes;
using Workshop.Service.Features.Recordings;
using Workshop.Service.Features.Shipments;
using Workshop.Service.Features.Shop;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Features.Takedown;
using Workshop.Service.Features.Tests;
using Workshop.Service.Features.Warranties;
using Workshop.Service.Features.Watches;
using Workshop.Service.Features.WearReports;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Features.Whereabouts;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Tasks;

namespace Workshop.Service.Http;

/// <summary>Everything that has an address. A feature adds its one line.</summary>
public static class WorkshopRoutes
{
    public static void MapWorkshop(this IEndpointRouteBuilder routes)
    {
        // Bodies, pages and versions that cannot be read are refused before an endpoint's own code runs.
        var api = routes.MapGroup("");
        api.AddEndpointFilter(new RefuseWhatCannotBeRead());

        api.MapOneself();
        api.MapJobs();
        api.MapTakedown();
        api.MapTests();
        api.MapPhotos();
        api.MapRecordings();
        api.MapQuotes();
        api.MapPublicPages();
        api.MapMoney();
        api.MapPromises();
        api.MapWarranties();
        api.MapDisputes();
        api.MapShipments();
        api.MapWearReports();
        api.MapExtracts();
        api.MapArrivals();
        api.MapStorefront();
        api.MapCustomers();
        api.MapPersonalData();
        api.MapParties();
        api.MapLetters();
        api.MapWatches();
        api.MapOwners();
        api.MapBenchEvents();
        api.MapLabels();
        api.MapEvents();
        api.MapGates();
        api.MapAgenda();
        api.MapFeeds();
        api.MapDevices();
        api.MapPeople();
        api.MapCleaning();
        api.MapShop();
        api.MapParts();
        api.MapWhereabouts();
        api.MapCharts();
        api.MapBackUps();
        api.MapChanges();
        api.MapWebhooks();
        api.MapProblems();
        routes.MapHealth();
        routes.MapMetricsPage();
        routes.MapApiDescription();
        routes.MapAlarmClock();
    }
}
