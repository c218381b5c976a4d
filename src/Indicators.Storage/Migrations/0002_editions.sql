-- Editions: everything a public page may know, and nothing else. No observer, no note, no coordinate, no contact, no call
-- of a protected species is ever copied here.
CREATE TABLE edition (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    state TEXT NOT NULL CHECK (state IN ('unfinished', 'draft', 'published', 'earlier')),
    run_key TEXT NOT NULL,
    created_at TEXT,
    published_at TEXT,
    schema_version INTEGER NOT NULL,
    inputs_sha256 TEXT NOT NULL,
    settings TEXT NOT NULL CHECK (json_valid(settings)),
    seed TEXT NOT NULL,
    resamples INTEGER NOT NULL,
    through_season INTEGER,
    engine_version TEXT NOT NULL,
    runtime TEXT NOT NULL,
    processor TEXT NOT NULL,
    surveys INTEGER,
    stations INTEGER,
    wetlands INTEGER,
    species INTEGER,
    areas INTEGER,
    first_season INTEGER,
    last_season INTEGER,
    CHECK (state = 'unfinished' OR created_at IS NOT NULL),
    CHECK ((state IN ('published', 'earlier')) = (published_at IS NOT NULL))
) STRICT;

-- At most one of each; earlier ones pile up.
CREATE UNIQUE INDEX edition_state ON edition (state) WHERE state <> 'earlier';

CREATE TABLE edition_warning (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    count INTEGER NOT NULL CHECK (count > 0),
    PRIMARY KEY (edition, kind)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_area (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    name TEXT,
    stations INTEGER NOT NULL,
    wetlands INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    first_season INTEGER NOT NULL,
    last_season INTEGER NOT NULL,
    expected_is_given INTEGER NOT NULL CHECK (expected_is_given IN (0, 1)),
    PRIMARY KEY (edition, area)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_expected (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    PRIMARY KEY (edition, area, species_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_shape (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    geometry TEXT NOT NULL,
    PRIMARY KEY (edition, area)
) STRICT;

CREATE TABLE edition_species (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    species_id TEXT NOT NULL,
    scientific_name TEXT NOT NULL,
    common_name TEXT NOT NULL,
    window_start TEXT NOT NULL,
    window_end TEXT NOT NULL,
    sensitivity REAL NOT NULL,
    protected INTEGER NOT NULL CHECK (protected IN (0, 1)),
    PRIMARY KEY (edition, species_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_effort (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    season INTEGER NOT NULL,
    stations INTEGER NOT NULL,
    wetlands INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    PRIMARY KEY (edition, area, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_trend (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    status TEXT NOT NULL,
    first_season INTEGER,
    last_season INTEGER,
    percent_per_season REAL,
    lower REAL,
    upper REAL,
    interval TEXT NOT NULL,
    direction TEXT NOT NULL,
    slowly INTEGER NOT NULL CHECK (slowly IN (0, 1)),
    probability_of_decline REAL,
    lower_monte_carlo_error REAL,
    upper_monte_carlo_error REAL,
    bca_lower REAL,
    bca_upper REAL,
    jackknife_lower REAL,
    jackknife_upper REAL,
    clusters INTEGER NOT NULL,
    informative_clusters INTEGER NOT NULL,
    stations INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    silent_stations INTEGER NOT NULL,
    ceiling_share REAL,
    resamples INTEGER NOT NULL,
    PRIMARY KEY (edition, area, species_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_index (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    season INTEGER NOT NULL,
    status TEXT NOT NULL,
    index_value REAL,
    lower REAL,
    upper REAL,
    in_baseline INTEGER NOT NULL CHECK (in_baseline IN (0, 1)),
    mean_call_level REAL NOT NULL,
    stations INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    PRIMARY KEY (edition, area, species_id, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_group (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    season INTEGER NOT NULL,
    index_value REAL,
    lower REAL,
    upper REAL,
    species INTEGER NOT NULL,
    PRIMARY KEY (edition, area, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_condition (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    season INTEGER NOT NULL,
    lacks INTEGER NOT NULL,
    score REAL,
    lower REAL,
    upper REAL,
    class TEXT,
    probability_good REAL,
    probability_fair REAL,
    probability_poor REAL,
    presence_part REAL,
    sensitivity_part REAL,
    calling_part REAL,
    direction_part REAL,
    expected INTEGER NOT NULL,
    heard INTEGER NOT NULL,
    seasons_in_window INTEGER NOT NULL,
    wetlands INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    conservatism_index REAL,
    PRIMARY KEY (edition, area, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_condition_line (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    season INTEGER NOT NULL,
    line INTEGER NOT NULL,
    part TEXT NOT NULL,
    species_id TEXT,
    points REAL NOT NULL,
    change REAL,
    PRIMARY KEY (edition, area, season, line)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_survey (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    place INTEGER NOT NULL,
    survey_id TEXT NOT NULL,
    station_id TEXT NOT NULL,
    wetland_id TEXT NOT NULL,
    watershed_code TEXT NOT NULL,
    date TEXT NOT NULL,
    start_time TEXT,
    minutes REAL,
    air_temp_c REAL,
    wind_beaufort INTEGER,
    sky_code TEXT,
    noise TEXT,
    PRIMARY KEY (edition, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_call (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    place INTEGER NOT NULL,
    species_id TEXT NOT NULL,
    level INTEGER NOT NULL CHECK (level BETWEEN 0 AND 3),
    PRIMARY KEY (edition, place, species_id)
) STRICT, WITHOUT ROWID;

PRAGMA user_version = 2;
