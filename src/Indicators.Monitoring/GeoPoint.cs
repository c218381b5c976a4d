using System.Globalization;

namespace Indicators.Monitoring;

/// <summary>A place on the earth in decimal degrees, WGS 84.</summary>
public readonly record struct GeoPoint
{
    private GeoPoint(double latitude, double longitude)
    {
        Latitude = latitude;
        Longitude = longitude;
    }

    /// <summary>Degrees north of the equator, −90 to 90.</summary>
    public double Latitude { get; }

    /// <summary>Degrees east of Greenwich, −180 to 180.</summary>
    public double Longitude { get; }

    /// <summary>The point at these coordinates.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is out of range; use the parsers for what people typed.</exception>
    public static GeoPoint At(double latitude, double longitude)
    {
        if (!(Math.Abs(latitude) <= 90)) throw new ArgumentOutOfRangeException(nameof(latitude), latitude, "From -90 to 90.");
        if (!(Math.Abs(longitude) <= 180)) throw new ArgumentOutOfRangeException(nameof(longitude), longitude, "From -180 to 180.");
        return new GeoPoint(latitude, longitude);
    }

    /// <summary>Reads a latitude in decimal degrees.</summary>
    public static Parsed<double> ParseLatitude(string text) =>
        Degrees(text, 90) ?? (Parsed<double>)new FieldProblem(text, "a latitude", "decimal degrees from -90 to 90, with a point");

    /// <summary>Reads a longitude in decimal degrees.</summary>
    public static Parsed<double> ParseLongitude(string text) =>
        Degrees(text, 180) ?? (Parsed<double>)new FieldProblem(text, "a longitude", "decimal degrees from -180 to 180, with a point");

    private static double? Degrees(string text, double limit) =>
        double.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out double degrees) && Math.Abs(degrees) <= limit
            ? degrees
            : null;
}
