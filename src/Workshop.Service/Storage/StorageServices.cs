namespace Workshop.Service.Storage;

/// <summary>What the rest of the program gets from here: <see cref="Writer"/> to write, <see cref="Reader"/> to read.</summary>
public static class StorageServices
{
    /// <summary>Sections <c>Storage</c>, <c>Events</c> and <c>Shop</c>. The clock is added by whoever composes the program.</summary>
    /// <param name="serve">True where requests are answered: the writer runs and the log is moved.</param>
    public static IServiceCollection AddWorkshopStorage(this IServiceCollection services, IConfiguration settings, bool serve = true)
    {
        services.AddSingleton(settings.GetSection("Storage").Get<StorageSettings>() ?? new StorageSettings());
        services.AddSingleton(settings.GetSection("Events").Get<WriterSettings>() ?? new WriterSettings());
        services.AddSingleton(settings.GetSection("Shop").Get<ShopSettings>() ?? new ShopSettings());
        services.AddSingleton<Database>();
        services.AddSingleton<Reader>();
        services.AddSingleton<ApiKeys>();
        services.AddSingleton<Migrations>();
        services.AddSingleton<CheckJournal>();
        services.AddSingleton<Writer>();
        if (serve)
        {
            services.AddHostedService(provider => provider.GetRequiredService<Writer>());
            services.AddHostedService<Checkpoints>();
        }

        return services;
    }
}
