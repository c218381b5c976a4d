-- The seasons of one more window that a run was asked for.
ALTER TABLE edition ADD COLUMN window_from INTEGER;
ALTER TABLE edition ADD COLUMN window_to INTEGER;

-- What else is computed of the same surveys: other windows, responses and models.
CREATE TABLE edition_trend_variant (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    window TEXT NOT NULL,
    response TEXT NOT NULL,
    model TEXT NOT NULL,
    status TEXT NOT NULL,
    first_season INTEGER,
    last_season INTEGER,
    percent_per_season REAL,
    lower REAL,
    upper REAL,
    interval TEXT NOT NULL,
    lower_underlying REAL,
    upper_underlying REAL,
    season_sd REAL,
    direction TEXT NOT NULL,
    total_change REAL,
    total_lower REAL,
    total_upper REAL,
    probability_of_decline REAL,
    probability_below_30 REAL,
    probability_below_50 REAL,
    probability_below_80 REAL,
    clusters INTEGER NOT NULL,
    stations INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    ceiling_share REAL,
    PRIMARY KEY (edition, area, species_id, window, response, model)
) STRICT, WITHOUT ROWID;

-- Occupancy of wetlands with imperfect detection, and what silence at a station says.
CREATE TABLE edition_occupancy (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    season INTEGER NOT NULL,
    wetlands INTEGER NOT NULL,
    wetlands_heard INTEGER,
    raw_share REAL,
    psi REAL,
    lower REAL,
    upper REAL,
    basis TEXT NOT NULL,
    PRIMARY KEY (edition, area, species_id, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_occupancy_rates (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    basis TEXT NOT NULL,
    wetlands INTEGER NOT NULL,
    wetlands_heard INTEGER NOT NULL,
    visits INTEGER NOT NULL,
    colonisation REAL,
    colonisation_lower REAL,
    colonisation_upper REAL,
    extinction REAL,
    extinction_lower REAL,
    extinction_upper REAL,
    visits_for_absence INTEGER,
    PRIMARY KEY (edition, area, species_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_detection (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    part TEXT NOT NULL,
    visits INTEGER NOT NULL,
    detections INTEGER,
    p REAL NOT NULL,
    standard_error REAL,
    lower REAL,
    upper REAL,
    visits_for_absence INTEGER,
    visits_for_absence_cautious INTEGER,
    PRIMARY KEY (edition, area, species_id, part)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_silence (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    kind TEXT NOT NULL,
    place INTEGER NOT NULL,
    station_id TEXT NOT NULL,
    species_id TEXT NOT NULL,
    heard_season INTEGER NOT NULL,
    silent_visits INTEGER NOT NULL,
    silent_seasons INTEGER NOT NULL,
    visits INTEGER NOT NULL,
    visits_heard INTEGER NOT NULL,
    chance REAL NOT NULL,
    chance_present REAL,
    PRIMARY KEY (edition, area, kind, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_silence_tally (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    kind TEXT NOT NULL,
    tested INTEGER NOT NULL,
    listed INTEGER NOT NULL,
    expected_by_chance REAL NOT NULL,
    PRIMARY KEY (edition, area, kind)
) STRICT, WITHOUT ROWID;

-- The score's presence and sensitivity with every species not heard taken for absent.
ALTER TABLE edition_condition ADD COLUMN presence_raw_part REAL;
ALTER TABLE edition_condition ADD COLUMN sensitivity_raw_part REAL;

PRAGMA user_version = 4;
