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

PRAGMA user_version = 4;
