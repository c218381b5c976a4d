using System.Globalization;
using System.Xml.Linq;
using Indicators.Storage;
using Indicators.Storage.Editions;
using Indicators.Web;

namespace Indicators.Benchmarks;

/// <summary>
/// How long the first reader of a page waits: reading its results from the database, making it and packing it, with nothing
/// kept. Timed from the request to the last byte, over loopback, so the server's own time is a little less.
/// </summary>
internal static class FirstRender
{
    private static readonly string[] Listed = ["/", "/season", "/editions"];

    public static async Task<int> Run(string path, int rounds, TextWriter output)
    {
        if (Database.Open(path, DatabaseAccess.Read).Database is not { } database)
        {
            await output.WriteLineAsync($"{path} cannot be opened.");
            return 2;
        }
        using (database)
        {
            var times = new Dictionary<string, List<double>>();
            var bytes = new Dictionary<string, long>();
            string largest = "";
            for (int round = 0; round <= rounds; round++)
            {
                // A fresh app each time: no page and no edition is at hand. The first round only finds the pages and warms the code up.
                await using var app = WebHost.Build(["--urls", "http://127.0.0.1:0"], new EditionReader(database));
                await app.StartAsync();
                using var client = new HttpClient { BaseAddress = new Uri(app.Urls.Single()) };
                client.DefaultRequestHeaders.Add("Accept-Encoding", "br");
                var pages = await Pages(client);
                // The largest comes last: all that the pages share has been read by then, as in a running app.
                foreach (string page in pages.Where(page => page != largest).Append(largest).Where(page => page.Length > 0))
                {
                    long start = TimeProvider.System.GetTimestamp();
                    using var answer = await client.GetAsync(new Uri(page, UriKind.Relative));
                    long sent = (await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync()).LongLength;
                    double milliseconds = TimeProvider.System.GetElapsedTime(start).TotalMilliseconds;
                    bytes[page] = sent;
                    if (round > 0)
                        (times.TryGetValue(page, out var list) ? list : times[page] = []).Add(milliseconds);
                }
                largest = bytes.MaxBy(page => page.Value).Key;
                await app.StopAsync();
            }
            Write(output, largest, bytes, times);
        }
        return 0;
    }

    private static async Task<List<string>> Pages(HttpClient client)
    {
        using var plain = new HttpClient { BaseAddress = client.BaseAddress };
        var map = XDocument.Parse(await plain.GetStringAsync(new Uri("/sitemap.xml", UriKind.Relative)));
        return [.. Listed.Concat(map.Descendants().Where(element => element.Name.LocalName == "loc").Select(element => new Uri(element.Value).PathAndQuery)).Distinct()];
    }

    private static void Write(TextWriter output, string largest, Dictionary<string, long> bytes, Dictionary<string, List<double>> times)
    {
        output.WriteLine(Line("largest", largest));
        foreach (var (page, _) in times.OrderByDescending(each => Median(each.Value)).Take(8))
            output.WriteLine(Line("slowest", page));
        var all = times.Values.Select(Median).Order().ToList();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{times.Count} pages: median {all[all.Count / 2]:0.0} ms, longest single time {times.Values.Max(list => list.Max()):0.0} ms"));

        string Line(string what, string page) => string.Create(
            CultureInfo.InvariantCulture, $"{what} {page}: {bytes[page]} bytes packed, median {Median(times[page]):0.0} ms, {times[page].Min():0.0} to {times[page].Max():0.0}");
    }

    private static double Median(List<double> values)
    {
        var sorted = values.Order().ToList();
        return sorted.Count % 2 == 1 ? sorted[sorted.Count / 2] : (sorted[sorted.Count / 2 - 1] + sorted[sorted.Count / 2]) / 2;
    }
}
