using Indicators.Monitoring;

namespace Indicators.Analysis.Results;

/// <summary>The shape of a watershed as published.</summary>
/// <param name="Code">The watershed.</param>
/// <param name="GeometryJson">A GeoJSON (RFC 7946) Polygon or MultiPolygon geometry, longitude before latitude, WGS 84.</param>
public sealed record AreaShape(WatershedCode Code, string GeometryJson);
