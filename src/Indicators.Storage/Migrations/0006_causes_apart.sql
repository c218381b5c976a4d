-- What each cause moved between two editions: runs in between, with one thing more changed each time. The last step ends
-- at the later edition itself, so it has no rows of its own.
CREATE TABLE edition_step (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    before INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    after INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    causes INTEGER NOT NULL CHECK (causes > 0),
    UNIQUE (before, after, place)
) STRICT;

CREATE TABLE edition_step_trend (
    step INTEGER NOT NULL REFERENCES edition_step (number) ON DELETE CASCADE,
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
    lower_underlying REAL,
    upper_underlying REAL,
    season_sd REAL,
    equal_stations_percent REAL,
    PRIMARY KEY (step, area, species_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_step_condition (
    step INTEGER NOT NULL REFERENCES edition_step (number) ON DELETE CASCADE,
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
    presence_raw_part REAL,
    sensitivity_raw_part REAL,
    PRIMARY KEY (step, area, season)
) STRICT, WITHOUT ROWID;

PRAGMA user_version = 6;
