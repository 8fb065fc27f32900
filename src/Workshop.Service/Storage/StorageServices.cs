namespace Workshop.Service.Storage;

/// <summary>What the rest of the program gets from here: <see cref="Writer"/> to write, <see cref="Reader"/> to read.</summary>
public static class StorageServices
{
    /// <summary>The clock is added by whoever composes the program.</summary>
    /// <param name="serve">True where requests are answered: the writer runs and the log is moved.</param>
    public static IServiceCollection AddWorkshopStorage(
        this IServiceCollection services, StorageSettings storage, WriterSettings writer, ShopSettings shop, BackUpSettings backUps, bool serve = true)
    {
        services.AddSingleton(storage);
        services.AddSingleton(writer);
        services.AddSingleton(shop);
        services.AddSingleton(backUps);
        services.AddSingleton<BackUps>();
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
