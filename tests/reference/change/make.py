#!/usr/bin/env python3
"""The change of calling between two times, taken apart by what both times' listening shares; written here from the methods
page in plain Python, independent of the engine.

    visits.csv     invented visits as people write them down: stations that come and go, uneven visits, two species, one of
                   them with a calling window over the year's end, missing observers, minutes and wind
    expected.csv   for every area, species and time before: the log ratio of the mean call levels, the five steps, what was
                   heard, why it stopped and what is shared. Within strata the ratio is that of Mantel and Haenszel for
                   person-time data: sum(a T0 / T) / sum(b T1 / T) (Greenland and Robins 1985; Rothman and Greenland 1998)

    cd tests/reference/change && python3 make.py [OUTPUT_FOLDER]
"""
import datetime
import math
import platform
import sys
from pathlib import Path

STEPS = ["stations", "visits", "windows", "observers", "method"]
WINDOWS = {"spring": ((3, 20), (7, 15)), "winter": ((11, 20), (3, 31))}
FEWEST_WETLANDS, FEWEST_OBSERVERS, SMALLEST_SHARE = 5, 3, 0.5
LEAST_MINUTES, MOST_WIND = 5, 3

state = 20261125


def draw(n):
    """A whole number below n (Numerical Recipes' linear congruential generator, its upper bits)."""
    global state
    state = (1664525 * state + 1013904223) % 2**32
    return (state >> 8) * n >> 24


def visits():
    rows = []
    for w in range(15):
        area = "99010101" if w < 9 else "99010102"
        for s in range(2 if w % 5 == 0 else 1):
            station = f"S{w:02}{'ab'[s]}"
            weight = 2 if w == 3 else 1
            loud = draw(100)
            first, last = (2014 if w % 4 == 3 else 2011), (2016 if w % 6 == 5 else 2018)
            for year in range(first, last + 1):
                for visit in range(3 + draw(4)):
                    day = datetime.date(year, 3, 25) + datetime.timedelta([12, 45, 80][visit % 3] + draw(25))
                    if visit in (3, 4):
                        day = datetime.date(year, 12, 1) + datetime.timedelta(draw(30))
                    elif visit == 2 and year > first and draw(2):
                        day = datetime.date(year, 1, 5) + datetime.timedelta(draw(60))
                    people = ["ann", "ben", "cy", "dee"] if w % 2 else ["eve", "ann", "fay"]
                    observer = "" if draw(12) == 0 else people[(w + (draw(6) == 0)) % len(people)] if w < 9 else ['gil', 'hal'][w % 2]
                    minutes, wind = ("", "") if draw(25) == 0 else (3 if draw(15) == 0 else 5, draw(9) // 2)
                    level = lambda chance: 1 + draw(3) if draw(100) < chance else 0
                    # The last area's winter frogs fall silent.
                    rows.append([f"v{len(rows):04}", station, f"W{w:02}", weight, area, day, minutes, wind, observer,
                                 level(30 + loud // 2 - 4 * (year - 2011)), level(0 if w >= 9 and year == 2018 else 10 + loud // 3)])
    return rows


def season_part(species, day):
    """The season a day belongs to and its third of the window, or None."""
    (m0, d0), (m1, d1) = WINDOWS[species]
    for season in (day.year, day.year - 1):
        start = datetime.date(season, m0, d0)
        end = datetime.date(season + ((m1, d1) < (m0, d0)), m1, d1)
        if start <= day <= end:
            return season, 3 * (day - start).days // ((end - start).days + 1)
    return None


def kept(minutes, wind):
    if minutes == "" and wind == "":
        return None
    return (minutes == "" or minutes >= LEAST_MINUTES) and (wind == "" or wind <= MOST_WIND)


def eligible(rows, species, area):
    column = 9 + ["spring", "winter"].index(species)
    found = []
    for row in rows:
        where = season_part(species, row[5])
        if where and row[4].startswith(area):
            found.append({"season": where[0], "part": where[1], "station": row[1], "wetland": row[2], "weight": row[3],
                          "minutes": row[6], "kept": kept(row[6], row[7]), "observer": row[8], "level": row[column]})
    return found


def stratum(visit, step):
    """What must be alike at a step; None when it is not known."""
    parts = [visit["station"]]
    if step >= 2:
        parts.append(visit["part"])
    if step >= 3:
        if visit["observer"] == "":
            return None
        parts.append(visit["observer"])
    if step >= 4:
        if visit["kept"] is None:
            return None
        parts += [visit["kept"], visit["minutes"]]
    return tuple(parts)


def mean(visits_):
    weight = sum(v["weight"] for v in visits_)
    return sum(v["weight"] * v["level"] for v in visits_) / weight


def log_ratio(now, before):
    return math.log(now / before) if now > 0 and before > 0 else None


def compare(found, before, season):
    old = [v for v in found if v["season"] in before]
    new = [v for v in found if v["season"] == season]
    result = {"surveys_before": len(old), "surveys_now": len(new), "mean_before": mean(old), "mean_now": mean(new), "stop": "none", "stopped_at": "",
              "shared_surveys": len(old) + len(new), "shared_wetlands": len({v["wetland"] for v in old + new})}
    log = log_ratio(mean(new), mean(old))
    if log is None:
        result["stop"], result["stopped_at"] = "few_heard", STEPS[0]
        return result
    result["total"] = log
    enough = None
    for step, name in enumerate(STEPS):
        groups = {}
        for side, visits_ in enumerate((old, new)):
            for v in visits_:
                key = stratum(v, step)
                if key is not None:
                    groups.setdefault(key, ([], []))[side].append(v)
        shared = {k: g for k, g in groups.items() if g[0] and g[1]}
        everything = [v for g in shared.values() for side in g for v in side]
        a = sum(g[0][0]["weight"] * sum(v["level"] for v in g[1]) * len(g[0]) / (len(g[0]) + len(g[1])) for g in shared.values())
        b = sum(g[0][0]["weight"] * sum(v["level"] for v in g[0]) * len(g[1]) / (len(g[0]) + len(g[1])) for g in shared.values())
        telling = {g[0][0]["wetland"] for g in shared.values() if any(v["level"] for side in g for v in side)}
        wetlands = {v["wetland"] for v in everything}
        people = {v["observer"] for v in old + new} - {""}
        if len(wetlands) < FEWEST_WETLANDS:
            stop = "few_wetlands"
        elif enough is not None and len(everything) < SMALLEST_SHARE * enough:
            stop = "few_surveys"
        elif step >= 3 and len(people) < FEWEST_OBSERVERS:
            stop = "few_observers"
        elif len(telling) < FEWEST_WETLANDS:
            stop = "few_heard"
        elif step == 0:
            after = log_ratio(mean([v for g in shared.values() for v in g[1]]), mean([v for g in shared.values() for v in g[0]]))
            stop = "few_heard" if after is None else None
        else:
            after = log_ratio(a, b)
            stop = "few_heard" if after is None else None
        if stop:
            result["stop"], result["stopped_at"] = stop, name
            break
        result[name] = log - after
        log = after
        enough = len(everything) if enough is None else enough
        result["shared_surveys"], result["shared_wetlands"] = len(everything), len(wetlands)
    result["heard"] = log
    return result


def head(file):
    return (f"# source: invented; {'Greenland and Robins 1985; ' if file == 'expected.csv' else ''}computed by make.py\n"
            f"# tools: Python {platform.python_version()}\n# rerun: tests/reference/rerun change\n# tolerance: 1e-12\n")


def main():
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else ".")
    rows = visits()
    text = "survey,station,wetland,weight,watershed,date,minutes,wind,observer,spring,winter\n"
    text += "".join(",".join(str(cell) for cell in row) + "\n" for row in rows)
    (folder / "visits.csv").write_text(head("visits.csv") + text, encoding="utf-8")
    text = "area,species,since,quantity,value\n"
    for area in ("9901", "99010101", "99010102"):
        for species in WINDOWS:
            found = eligible(rows, species, area)
            heard_at = {v["station"] for v in found if v["level"]}
            seasons = sorted({v["season"] for v in found if v["station"] in heard_at})
            last = max(row[5].year for row in rows if row[4].startswith(area))
            if last not in seasons:
                continue
            times = {"previous_season": [max(s for s in seasons if s < last)], "baseline": seasons[:3]}
            for since, before in times.items():
                for quantity, value in compare(found, before, last).items():
                    value = repr(float(value)) if isinstance(value, float) else value
                    text += f"{area},{species},{since},{quantity},{value}\n"
    (folder / "expected.csv").write_text(head("expected.csv") + text, encoding="utf-8")


main()
