using System.Globalization;
using Indicators.Monitoring;
using Indicators.Statistics.Resampling;
using NodaTime;

namespace Indicators.Analysis.Tests.Occupancy;

/// <summary>
/// An invented programme in which it is known where the frogs are: wetlands are occupied, emptied and colonised, and a
/// survey of an occupied one hears or misses. One station a wetland, one survey in each third of the calling window.
/// </summary>
internal sealed record OccupancyWorld(int Wetlands, int Seasons, double Psi, double Colonise, double Vanish, double[] P)
{
    public const int FirstSeason = 2000;

    /// <summary>How many species like that; they share nothing but the surveys.</summary>
    public int Species { get; init; } = 4;

    /// <summary>How many further species are everywhere and easily heard, so that there is a score.</summary>
    public int Companions { get; init; }

    /// <summary>Added to colonisation for the share of wetlands occupied: frogs come from the wetlands around.</summary>
    public double FromNeighbours { get; init; }

    /// <summary>Standard deviation of detection between wetlands, logit.</summary>
    public double Loudness { get; init; }

    /// <summary>Standard deviation of detection between seasons, shared by all wetlands, logit.</summary>
    public double Springs { get; init; }

    /// <summary>Standard deviation of extinction between seasons, shared by all wetlands, logit.</summary>
    public double Dryness { get; init; }

    /// <summary>From this season on, by number, every wetland whose number is a multiple of <see cref="EmptiedEvery"/> is empty.</summary>
    public int EmptiedFrom { get; init; } = int.MaxValue;

    /// <summary>Until this season, by number, the same wetlands are empty; in it all of them are occupied.</summary>
    public int FilledFrom { get; init; }

    /// <summary>Which wetlands are emptied, or filled.</summary>
    public int EmptiedEvery { get; init; } = 1;

    /// <summary>The share of surveys that were not made.</summary>
    public double Missing { get; init; } = 0.2;

    /// <summary>Whether only the window's first third has a survey, as an early breeder has where a programme listens once a month.</summary>
    public bool OneSurvey { get; init; }

    public static WatershedCode Area { get; } = WatershedCode.Parse("99").Value;

    public static Id<Species> Focal(int k) => Programmes.SpeciesId($"f{k}");

    /// <summary>The programme and, species by species, which wetland was occupied in which season.</summary>
    public (ProgrammeData Data, bool[][,] Occupied) Draw(uint key)
    {
        uint counter = 0;
        double Next() => (Philox.Block(counter++, 7, 7, 7, key, 20260406).W0 + 0.5) / 4294967296.0;
        double Normal() => Math.Sqrt(-2 * Math.Log(Next())) * Math.Cos(2 * Math.PI * Next());

        var occupied = new bool[Species][,];
        var heard = new double[Species][,];
        for (int k = 0; k < Species; k++)
        {
            occupied[k] = new bool[Wetlands, Seasons];
            double[] loud = [.. Enumerable.Range(0, Wetlands).Select(_ => Loudness * Normal())];
            heard[k] = new double[Wetlands, Seasons];
            for (int t = 0; t < Seasons; t++)
            {
                double share = t == 0 ? 0 : Enumerable.Range(0, Wetlands).Count(w => occupied[k][w, t - 1]) / (double)Wetlands;
                double vanish = Shifted(Vanish, Dryness * Normal()), spring = Springs * Normal();
                double colonise = Math.Min(1, Colonise + FromNeighbours * share);
                for (int w = 0; w < Wetlands; w++)
                {
                    double chance = t == 0 ? Psi : occupied[k][w, t - 1] ? 1 - vanish : colonise;
                    bool there = Next() < chance;
                    bool moved = w % EmptiedEvery == 0 && (t >= EmptiedFrom || t <= FilledFrom && FilledFrom > 0);
                    occupied[k][w, t] = moved ? t == FilledFrom && FilledFrom > 0 : there;
                    heard[k][w, t] = loud[w] + spring;
                }
            }
        }

        List<Station> stations = [];
        List<Survey> surveys = [];
        for (int w = 0; w < Wetlands; w++)
        {
            string station = string.Create(CultureInfo.InvariantCulture, $"s{w:000}");
            stations.Add(Programmes.Pond(station, "w" + station, "99"));
            for (int t = 0; t < Seasons; t++)
            {
                for (int part = 0; part < 3; part++)
                {
                    if (Next() < Missing || (OneSurvey && part > 0))
                        continue;
                    var calls = new List<(string, int)>();
                    for (int c = 0; c < Companions; c++)
                        if (Next() < 0.8)
                            calls.Add(($"c{c}", 1));
                    for (int k = 0; k < Species; k++)
                        if (occupied[k][w, t] && Next() < Shifted(P[part], heard[k][w, t]))
                            calls.Add(($"f{k}", 1));
                    surveys.Add(Programmes.Listen(
                        string.Create(CultureInfo.InvariantCulture, $"{station}-{t}-{part}"), station, DateIn(part, FirstSeason + t), [.. calls]));
                }
            }
        }
        Species[] list = [.. Enumerable.Range(0, Companions).Select(c => Programmes.Frog($"c{c}")), .. Enumerable.Range(0, Species).Select(k => Programmes.Frog($"f{k}"))];
        var expected = list.Select(s => new ExpectedSpecies(Area, s.Id, null));
        return (Programmes.Data(stations, list, surveys, Companions > 0 ? expected : null), occupied);
    }

    /// <summary>The chance of occupancy of a season, by its number, as the rates alone say.</summary>
    public double PsiIn(int season)
    {
        double psi = Psi;
        for (int t = 0; t < season; t++)
            psi = psi * (1 - Vanish) + (1 - psi) * Colonise;
        return psi;
    }

    /// <summary>A day in each third of the window of <see cref="Programmes.Frog"/>.</summary>
    private static LocalDate DateIn(int part, int year) => part switch
    {
        0 => new LocalDate(year, 4, 20),
        1 => new LocalDate(year, 6, 1),
        _ => new LocalDate(year, 7, 10),
    };

    private static double Shifted(double chance, double logits) =>
        chance is 0 or 1 ? chance : 1 / (1 + (1 / chance - 1) * Math.Exp(-logits));
}
