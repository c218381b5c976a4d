using System.Security.Cryptography;
using System.Text;
using Indicators.Exchange.Settings;
using Indicators.Storage.Editions;
using Indicators.Web.Reading;
using Indicators.Wording;
using Microsoft.AspNetCore.Mvc;
using NodaTime;

namespace Indicators.Web.Pages;

/// <summary>All editions, with what each rests on.</summary>
internal sealed class EditionsModel(EditionShelf shelf) : EditionPageModel(shelf)
{
    private const int HashLetters = 12;

    public IReadOnlyList<EditionHeader> All { get; private set; } = [];

    public IActionResult OnGet()
    {
        if (!Open())
            return RedirectToPage("/Index");
        All = Shelf.All();
        return Page();
    }

    /// <summary>The first letters of the SHA-256 of the settings' text: alike settings are alike at a glance.</summary>
    public static string SettingsHash(EditionHeader header) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(SettingsJson.Write(header.Manifest.Settings))))[..HashLetters];

    /// <summary>The day it was published, where the programme is.</summary>
    public static string Published(EditionHeader header) => header.PublishedAt is { } at
        ? ComparisonSentences.Date(at.InZone(DateTimeZoneProviders.Tzdb[header.Manifest.Settings.TimeZone]).Date)
        : ComparisonSentences.Fixed("none");

    /// <summary>The edition published before one, or null.</summary>
    public EditionHeader? Before(EditionHeader header) => All.FirstOrDefault(each => each.Number < header.Number);
}
