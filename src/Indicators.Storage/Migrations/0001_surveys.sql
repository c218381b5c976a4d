-- What people wrote down, and who brought it, when, from where.
CREATE TABLE import_log (
    id INTEGER PRIMARY KEY,
    who TEXT NOT NULL,
    at TEXT NOT NULL,
    folder TEXT NOT NULL,
    reference_rows INTEGER NOT NULL CHECK (reference_rows >= 0),
    surveys_new INTEGER NOT NULL CHECK (surveys_new >= 0),
    surveys_replaced INTEGER NOT NULL CHECK (surveys_replaced >= 0)
) STRICT;

CREATE TABLE programme_settings (
    id INTEGER PRIMARY KEY,
    import INTEGER NOT NULL REFERENCES import_log (id),
    settings TEXT NOT NULL CHECK (json_valid(settings))
) STRICT;

CREATE TABLE watershed (
    code TEXT NOT NULL PRIMARY KEY CHECK (length(code) BETWEEN 2 AND 12 AND length(code) % 2 = 0 AND code NOT GLOB '*[^0-9]*'),
    name TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE watershed_shape (
    code TEXT NOT NULL PRIMARY KEY CHECK (length(code) BETWEEN 2 AND 12 AND length(code) % 2 = 0 AND code NOT GLOB '*[^0-9]*'),
    geometry TEXT NOT NULL CHECK (json_valid(geometry))
) STRICT;

CREATE TABLE wetland (
    id INTEGER PRIMARY KEY,
    wetland_id TEXT NOT NULL UNIQUE,
    name TEXT,
    class TEXT
) STRICT;

CREATE TABLE station (
    id INTEGER PRIMARY KEY,
    station_id TEXT NOT NULL UNIQUE,
    name TEXT,
    wetland INTEGER NOT NULL REFERENCES wetland (id),
    watershed_code TEXT NOT NULL CHECK (length(watershed_code) BETWEEN 2 AND 12 AND watershed_code NOT GLOB '*[^0-9]*'),
    latitude REAL NOT NULL CHECK (latitude BETWEEN -90 AND 90),
    longitude REAL NOT NULL CHECK (longitude BETWEEN -180 AND 180),
    route_id TEXT,
    stop_number INTEGER CHECK (stop_number >= 1),
    weight REAL NOT NULL CHECK (weight > 0)
) STRICT;

CREATE TABLE species (
    id INTEGER PRIMARY KEY,
    species_id TEXT NOT NULL UNIQUE,
    scientific_name TEXT NOT NULL,
    common_name TEXT NOT NULL,
    window_start TEXT NOT NULL,
    window_end TEXT NOT NULL,
    sensitivity REAL NOT NULL CHECK (sensitivity BETWEEN 0 AND 10),
    protected INTEGER NOT NULL CHECK (protected IN (0, 1))
) STRICT;

CREATE TABLE expected_species (
    watershed_code TEXT NOT NULL,
    species INTEGER NOT NULL REFERENCES species (id),
    window_start TEXT,
    window_end TEXT,
    PRIMARY KEY (watershed_code, species),
    CHECK ((window_start IS NULL) = (window_end IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE survey (
    id INTEGER PRIMARY KEY,
    survey_id TEXT NOT NULL UNIQUE,
    station INTEGER NOT NULL REFERENCES station (id),
    date TEXT NOT NULL,
    start_time TEXT,
    minutes REAL CHECK (minutes > 0),
    observer TEXT,
    air_temp_c REAL,
    wind_beaufort INTEGER CHECK (wind_beaufort BETWEEN 0 AND 12),
    sky_code TEXT,
    noise TEXT,
    notes TEXT,
    review TEXT NOT NULL CHECK (review IN ('accepted', 'held', 'refused')),
    import INTEGER NOT NULL REFERENCES import_log (id),
    file TEXT NOT NULL,
    line INTEGER NOT NULL CHECK (line >= 1)
) STRICT;

CREATE TABLE call (
    survey INTEGER NOT NULL REFERENCES survey (id) ON DELETE CASCADE,
    species INTEGER NOT NULL REFERENCES species (id),
    level INTEGER NOT NULL CHECK (level BETWEEN 0 AND 3),
    PRIMARY KEY (survey, species)
) STRICT, WITHOUT ROWID;

-- The old content of every survey and reference row that an import replaced, with where the old content had come from.
CREATE TABLE survey_log (
    id INTEGER PRIMARY KEY,
    survey_id TEXT NOT NULL,
    replaced_by INTEGER NOT NULL REFERENCES import_log (id),
    old_import INTEGER NOT NULL REFERENCES import_log (id),
    old_file TEXT NOT NULL,
    old_line INTEGER NOT NULL,
    old_review TEXT NOT NULL,
    old_content TEXT NOT NULL CHECK (json_valid(old_content))
) STRICT;

CREATE TABLE reference_log (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('watershed', 'shape', 'wetland', 'station', 'species', 'expected')),
    key TEXT NOT NULL,
    replaced_by INTEGER NOT NULL REFERENCES import_log (id),
    old_content TEXT NOT NULL CHECK (json_valid(old_content))
) STRICT;

PRAGMA application_id = 1229866817;
PRAGMA user_version = 1;
