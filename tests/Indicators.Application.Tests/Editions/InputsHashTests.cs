using Indicators.Application.Editions;
using Indicators.Monitoring;
using Indicators.Storage.Surveys;
using Indicators.Storage.Tests;
using NodaTime;
using Xunit;

namespace Indicators.Application.Tests.Editions;

public sealed class InputsHashTests
{
    private static readonly ImportBatch Batch = Invented.Batch();

    private static readonly ProgrammeData Data = new(
        Batch.Watersheds, Batch.Wetlands, Batch.Stations, Batch.Species, Batch.Expected, [Invented.Loud, Invented.Silent]);

    private static readonly string Base = InputsHash.Of(Data, Batch.Shapes);

    [Fact]
    public void Order_of_the_lists_does_not_matter()
    {
        var turned = new ProgrammeData(
            [.. Data.Watersheds.Reverse()],
            [.. Data.Wetlands.Reverse()],
            [.. Data.Stations.Reverse()],
            [.. Data.Species.Reverse()],
            [.. Data.Expected.Reverse()],
            [.. Data.Surveys.Reverse().Select(survey => survey with { Calls = [.. survey.Calls.Reverse()] })]);
        Assert.Equal(Base, InputsHash.Of(turned, Batch.Shapes));
        Assert.Matches("^[0-9a-f]{64}$", Base);
    }

    [Fact]
    public void What_could_be_guessed_from_the_hash_stays_out()
    {
        var moved = Data with
        {
            Stations = [.. Data.Stations.Select(station => station with { Place = GeoPoint.At(1, 2) })],
            Surveys = [.. Data.Surveys.Select(survey => survey with { Observer = "X", Notes = "Y" })],
        };
        Assert.Equal(Base, InputsHash.Of(moved, Batch.Shapes));
    }

    [Fact]
    public void Places_and_observers_change_the_hash_that_stays_behind_and_notes_do_not()
    {
        string withheld = InputsHash.Withheld(Data);
        Assert.Equal(withheld, InputsHash.Withheld(Data with { Surveys = [.. Data.Surveys.Reverse().Select(survey => survey with { Notes = "Y" })] }));
        Assert.NotEqual(withheld, InputsHash.Withheld(Data with { Surveys = [.. Data.Surveys.Select(survey => survey with { Observer = "X" })] }));
        Assert.NotEqual(withheld, InputsHash.Withheld(Data with { Stations = [.. Data.Stations.Select(station => station with { Place = GeoPoint.At(1, 2) })] }));
    }

    /// <summary>All else that is hashed is public: whoever tried out calls would know when they are right.</summary>
    [Fact]
    public void Calls_of_a_protected_species_change_only_the_hash_that_stays_behind()
    {
        var open = Data.Species.Where(species => !species.Protected).Select(species => species.Id).ToHashSet();
        var secret = Data.Surveys.SelectMany(survey => survey.Calls).First(call => open.Contains(call.Species)).Species;
        var data = Data with { Species = [.. Data.Species.Select(species => species.Id == secret ? species with { Protected = true } : species)] };
        var silenced = data with { Surveys = [.. data.Surveys.Select(survey => survey with { Calls = [.. survey.Calls.Where(call => call.Species != secret)] })] };
        Assert.Equal(InputsHash.Of(data, Batch.Shapes), InputsHash.Of(silenced, Batch.Shapes));
        Assert.NotEqual(InputsHash.Withheld(data), InputsHash.Withheld(silenced));
        Assert.NotEqual(InputsHash.Of(Data, Batch.Shapes), InputsHash.Of(Data with { Surveys = silenced.Surveys }, Batch.Shapes));
    }

    [Fact]
    public void Every_field_a_result_rests_on_changes_it()
    {
        var loud = Invented.Loud;
        var wood = Data.Species[0];
        var changed = new List<ProgrammeData>
        {
            Data with { Watersheds = [Data.Watersheds[0] with { Name = "Else" }, Data.Watersheds[1]] },
            Data with { Wetlands = [Data.Wetlands[0]] },
            Data with { Stations = [Data.Stations[0] with { Weight = 2 }, Data.Stations[1]] },
            Data with { Stations = [Data.Stations[0] with { Wetland = Invented.Pond("W2") }, Data.Stations[1]] },
            Data with { Stations = [Data.Stations[0] with { Watershed = Invented.Code("99") }, Data.Stations[1]] },
            Data with { Species = [wood with { Protected = true }, Data.Species[1]] },
            Data with { Species = [wood with { Window = Invented.Window("03-16", "07-31") }, Data.Species[1]] },
            Data with { Species = [wood with { Conservatism = Conservatism.Parse("6.6").Value }, Data.Species[1]] },
            Data with { Species = [wood with { CommonName = "else" }, Data.Species[1]] },
            Data with { Species = [wood with { OtherNames = OtherNames.None }, Data.Species[1]] },
            Data with { Species = [wood with { OtherNames = OtherNames.Of([new("es", "rana wood"), new("fr", "wood-Frosch")]) }, Data.Species[1]] },
            Data with { Expected = [Data.Expected[0]] },
            Data with { Expected = [Data.Expected[0], Data.Expected[1] with { Window = null }] },
            Data with { Surveys = [loud] },
            With(loud with { Date = loud.Date.PlusDays(1) }),
            With(loud with { Station = Invented.Station("00T2") }),
            With(loud with { StartTime = null }),
            With(loud with { StartTime = new LocalTime(21, 31) }),
            With(loud with { Minutes = 6 }),
            With(loud with { AirTempC = null }),
            With(loud with { WindBeaufort = 3 }),
            With(loud with { SkyCode = null }),
            With(loud with { SkyCode = "" }),
            With(loud with { Noise = "1" }),
            With(loud with { Calls = [loud.Calls[0]] }),
            With(loud with { Calls = [loud.Calls[0], new Call(loud.Calls[1].Species, CallLevel.Of(2).Value)] }),
        };
        var hashes = changed.Select(data => InputsHash.Of(data, Batch.Shapes)).Append(Base).Append(InputsHash.Of(Data, [])).ToList();
        Assert.Equal(hashes.Count, hashes.Distinct().Count());
    }

    private static ProgrammeData With(Survey survey) => Data with { Surveys = [survey, Invented.Silent] };
}
