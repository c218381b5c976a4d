namespace Indicators.Monitoring;

/// <summary>A place where people stand and listen, season after season.</summary>
public sealed record Station : IIdentified
{
    static string IIdentified.IdThing => "a station id";

    /// <summary>The station's identifier.</summary>
    public required Id<Station> Id { get; init; }

    /// <summary>What people call it, or null.</summary>
    public string? Name { get; init; }

    /// <summary>The wetland it listens to.</summary>
    public required Id<Wetland> Wetland { get; init; }

    /// <summary>The smallest watershed it is known to lie in.</summary>
    public required WatershedCode Watershed { get; init; }

    /// <summary>Where it is. Never leaves the survey tables.</summary>
    public required GeoPoint Place { get; init; }

    /// <summary>The route it is a stop of, or null.</summary>
    public string? RouteId { get; init; }

    /// <summary>Its place in the route's order, from 1, or null.</summary>
    public int? StopNumber { get; init; }

    /// <summary>How much the station counts in every fit, greater than 0; 1 unless the design says otherwise.</summary>
    public double Weight { get; init; } = 1;
}

/// <summary>A pond, marsh or swamp that one or more stations listen to.</summary>
/// <param name="Id">The wetland's identifier.</param>
/// <param name="Name">What people call it, or null.</param>
/// <param name="Class">Its class in the wetlands classification standard FGDC-STD-004-2013, or null.</param>
public sealed record Wetland(Id<Wetland> Id, string? Name, string? Class) : IIdentified
{
    static string IIdentified.IdThing => "a wetland id";
}

/// <summary>A named watershed.</summary>
/// <param name="Code">Its nested code.</param>
/// <param name="Name">What people call it.</param>
public sealed record Watershed(WatershedCode Code, string Name);
