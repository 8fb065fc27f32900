using Workshop.Core.Labels;
using Workshop.Core.Shop;

namespace Workshop.Service.Storage;

/// <summary>What the writer remembers of a site between groups. It is right for as long as nobody else writes.</summary>
internal sealed class SiteMemory(int jobsAtMost)
{
    // Two generations instead of a list in order of use: what is asked for moves to the young one, the old one is dropped whole.
    private readonly int generation = Math.Max(1, jobsAtMost / 2);
    private Dictionary<Label, HeldJob> young = [];
    private Dictionary<Label, HeldJob> old = [];

    /// <summary>The site's count of commits after the last one of this writer; -1 before the first.</summary>
    public long Turns { get; set; } = -1;

    public ShopRules? Rules { get; set; }

    /// <summary>Last versions of streams that are no job.</summary>
    public Dictionary<string, long> Streams { get; } = new(StringComparer.Ordinal);

    public Dictionary<string, SourceState> Sources { get; } = new(StringComparer.Ordinal);

    public HeldJob? Find(Label label)
    {
        if (young.TryGetValue(label, out var held))
        {
            return held;
        }

        if (old.TryGetValue(label, out held))
        {
            Keep(held);
        }

        return held;
    }

    public void Keep(HeldJob held)
    {
        if (young.Count >= generation && !young.ContainsKey(held.Job.Label))
        {
            old = young;
            young = [];
        }

        young[held.Job.Label] = held;
    }

    /// <summary>Somebody else wrote: nothing remembered can be trusted.</summary>
    public void Forget()
    {
        young = [];
        old = [];
        Rules = null;
        Streams.Clear();
        Sources.Clear();
    }
}

/// <summary>
/// Everything that one group of requests has changed and not yet committed: one value, dropped when the group is rolled back,
/// so that nothing of it can outlive its transaction.
/// </summary>
/// <param name="turns">The site's count of commits with this one.</param>
internal sealed class Group(string site, SiteMemory memory, long position, byte[] hash, long turns)
{
    private readonly Dictionary<Label, HeldJob> jobs = [];
    private readonly List<Label> dirty = [];
    private readonly HashSet<Label> knownDirty = [];
    private readonly Dictionary<string, long> streams = new(StringComparer.Ordinal);
    private readonly Dictionary<EventId, ReceivedEvent> received = [];
    private readonly Dictionary<string, SourceState> sources = new(StringComparer.Ordinal);
    private readonly HashSet<string> changedSources = new(StringComparer.Ordinal);
    private bool rulesChanged;
    private ShopRules? rules = memory.Rules;

    public string Site => site;

    /// <summary>The last position given out.</summary>
    public long Position { get; private set; } = position;

    public byte[] Hash { get; private set; } = hash;

    /// <summary>Entries or nothing: only then the site's row changes.</summary>
    public bool HasEntries { get; private set; }

    public Outside Outside { get; init; } = Outside.Nobody;

    /// <summary>Something is to be told outside.</summary>
    public bool HasMessages { get; set; }

    /// <summary>A row was written that falls due by now: the sweep need not wait.</summary>
    public bool DueNow { get; set; }

    public ShopRules? Rules
    {
        get => rules;
        set => rules = value;
    }

    public IReadOnlyList<Label> Dirty => dirty;

    public HeldJob? Find(Label label) => jobs.TryGetValue(label, out var held) ? held : memory.Find(label);

    /// <summary>Keeps a job that was read, unchanged.</summary>
    public void Hold(HeldJob held) => jobs[held.Job.Label] = held;

    /// <summary>Keeps a job that has to be written before the commit.</summary>
    public void Change(HeldJob held)
    {
        Hold(held);
        if (knownDirty.Add(held.Job.Label))
        {
            dirty.Add(held.Job.Label);
        }
    }

    public void Saved()
    {
        dirty.Clear();
        knownDirty.Clear();
    }

    public long? StreamVersion(string stream) =>
        streams.TryGetValue(stream, out var version) || memory.Streams.TryGetValue(stream, out version) ? version : null;

    public void SetStreamVersion(string stream, long version) => streams[stream] = version;

    /// <summary>Sources whose rows have to be written before the commit.</summary>
    public IReadOnlyCollection<string> ChangedSources => changedSources;

    public SourceState? Source(string source) => sources.TryGetValue(source, out var state) || memory.Sources.TryGetValue(source, out state) ? state : null;

    public void HoldSource(SourceState state) => sources[state.Source] = state;

    public void ChangeSource(SourceState state)
    {
        HoldSource(state);
        changedSources.Add(state.Source);
    }

    public void SavedSources() => changedSources.Clear();

    public ReceivedEvent? Received(EventId id) => received.GetValueOrDefault(id);

    public void Remember(ReceivedEvent one) => received[one.Id] = one;

    public void Wrote(long at, byte[] chained)
    {
        Position = at;
        Hash = chained;
        HasEntries = true;
    }

    public void RulesChanged()
    {
        rulesChanged = true;
        rules = null;
    }

    /// <summary>Its transaction is committed: what it knows is what the database says.</summary>
    public void Commit()
    {
        memory.Turns = turns;
        memory.Rules = rules ?? (rulesChanged ? null : memory.Rules);
        foreach (var held in jobs.Values)
        {
            memory.Keep(held);
        }

        foreach (var (stream, version) in streams)
        {
            memory.Streams[stream] = version;
        }

        foreach (var (source, state) in sources)
        {
            memory.Sources[source] = state;
        }
    }
}
