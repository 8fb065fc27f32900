namespace Workshop.Service.Http.Keys;

/// <summary>What a key was given out for: what the place may do. What the person may do is the badge's matter.</summary>
public enum Role
{
    Bench,
    Desk,
    Manager,
    Storefront,
    Wall,

    /// <summary>Whoever watches over the program: how it does, and nothing of the workshop's work.</summary>
    Operator,
}

/// <summary>Sets of roles, as operations name them.</summary>
public static class Roles
{
    public static readonly IReadOnlyList<Role> Everybody = [Role.Bench, Role.Desk, Role.Manager, Role.Storefront, Role.Wall];

    public static readonly IReadOnlyList<Role> House = [Role.Bench, Role.Desk, Role.Manager, Role.Wall];

    public static readonly IReadOnlyList<Role> Devices = [Role.Bench, Role.Desk, Role.Manager];

    public static readonly IReadOnlyList<Role> Desk = [Role.Desk, Role.Manager];

    public static readonly IReadOnlyList<Role> DeskAndStorefront = [Role.Desk, Role.Manager, Role.Storefront];

    public static readonly IReadOnlyList<Role> Manager = [Role.Manager];

    public static readonly IReadOnlyList<Role> Operator = [Role.Manager, Role.Operator];
}
