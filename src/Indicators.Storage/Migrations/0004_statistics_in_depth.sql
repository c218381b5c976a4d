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

-- The group index of every group of species; until now of all of them only.
CREATE TABLE edition_group_all (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_group TEXT NOT NULL,
    season INTEGER NOT NULL,
    index_value REAL,
    lower REAL,
    upper REAL,
    species INTEGER NOT NULL,
    PRIMARY KEY (edition, area, species_group, season)
) STRICT, WITHOUT ROWID;

INSERT INTO edition_group_all (edition, area, species_group, season, index_value, lower, upper, species)
SELECT edition, area, 'all', season, index_value, lower, upper, species
FROM edition_group;

DROP TABLE edition_group;

ALTER TABLE edition_group_all RENAME TO edition_group;

CREATE TABLE edition_group_trend (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_group TEXT NOT NULL,
    species INTEGER NOT NULL,
    percent_per_season REAL,
    lower_underlying REAL,
    upper_underlying REAL,
    direction TEXT NOT NULL,
    probability_of_decline REAL,
    two_way_lower REAL,
    two_way_upper REAL,
    PRIMARY KEY (edition, area, species_group)
) STRICT, WITHOUT ROWID;

-- What pooling over areas needs of each. Seasons are packed: each is its year, leverage and residual as 64-bit floats, least
-- significant byte first.
CREATE TABLE edition_slope_part (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    slope REAL NOT NULL,
    information REAL NOT NULL,
    own_variance REAL,
    clusters INTEGER NOT NULL,
    residual_variance REAL,
    response_norm REAL NOT NULL,
    seasons BLOB NOT NULL,
    PRIMARY KEY (edition, area, species_id)
) STRICT, WITHOUT ROWID;

-- Slopes pooled over areas beside each other; parent '' is the whole programme.
CREATE TABLE edition_pooled (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    parent TEXT NOT NULL,
    level INTEGER NOT NULL,
    species_id TEXT NOT NULL,
    method TEXT NOT NULL,
    areas INTEGER NOT NULL,
    percent_per_season REAL NOT NULL,
    lower REAL NOT NULL,
    upper REAL NOT NULL,
    prediction_lower REAL NOT NULL,
    prediction_upper REAL NOT NULL,
    tau REAL NOT NULL,
    tau_lower REAL NOT NULL,
    tau_upper REAL NOT NULL,
    i_squared REAL NOT NULL,
    q REAL NOT NULL,
    shared_season_sd REAL NOT NULL,
    PRIMARY KEY (edition, parent, level, species_id, method)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_shrunken (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    parent TEXT NOT NULL,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    raw_percent REAL NOT NULL,
    raw_lower REAL,
    raw_upper REAL,
    percent_per_season REAL NOT NULL,
    lower REAL NOT NULL,
    upper REAL NOT NULL,
    own_share REAL NOT NULL,
    PRIMARY KEY (edition, parent, area, species_id)
) STRICT, WITHOUT ROWID;

-- Indices of larger watersheds fitted directly and rolled up from those directly inside them.
CREATE TABLE edition_rollup (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    season INTEGER NOT NULL,
    direct_index REAL NOT NULL,
    rolled_up_index REAL,
    areas INTEGER NOT NULL,
    station_share REAL NOT NULL,
    PRIMARY KEY (edition, area, species_id, season)
) STRICT, WITHOUT ROWID;

-- What covariates of visits do in the adjusted trends.
CREATE TABLE edition_effect (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    place INTEGER NOT NULL,
    covariate TEXT NOT NULL,
    status TEXT NOT NULL,
    effect REAL,
    lower REAL,
    upper REAL,
    percent_per_unit REAL,
    percent_lower REAL,
    percent_upper REAL,
    mean REAL,
    sd REAL,
    missing INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    PRIMARY KEY (edition, area, species_id, place)
) STRICT, WITHOUT ROWID;

-- Smooth courses, and when they change fastest.
CREATE TABLE edition_smooth (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    season INTEGER NOT NULL,
    value REAL NOT NULL,
    lower REAL,
    upper REAL,
    bend TEXT NOT NULL,
    fall_share REAL NOT NULL,
    rise_share REAL NOT NULL,
    PRIMARY KEY (edition, area, species_id, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_change (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    kind TEXT NOT NULL,
    season REAL,
    season_lower REAL,
    season_upper REAL,
    percent_per_season REAL NOT NULL,
    lower REAL NOT NULL,
    upper REAL NOT NULL,
    freedom REAL NOT NULL,
    PRIMARY KEY (edition, area, species_id, kind)
) STRICT, WITHOUT ROWID;

-- How well each trend is supported.
CREATE TABLE edition_evidence (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    grade TEXT NOT NULL,
    reasons INTEGER NOT NULL,
    leave_one_out_change REAL,
    left_out TEXT,
    left_out_stations INTEGER,
    sign_holds INTEGER,
    dispersion REAL,
    dispersion_df INTEGER,
    zero_cell_share REAL,
    seasons INTEGER NOT NULL,
    one_station_seasons INTEGER NOT NULL,
    ceiling_share REAL,
    observers INTEGER,
    new_observer_share REAL,
    outside_protocol_share REAL,
    PRIMARY KEY (edition, area, species_id)
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

-- When species are listened for and were heard.
CREATE TABLE edition_calling_time (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    window_start TEXT NOT NULL,
    window_end TEXT NOT NULL,
    first_heard TEXT,
    median_heard TEXT,
    last_heard TEXT,
    surveys_heard INTEGER,
    PRIMARY KEY (edition, area, species_id)
) STRICT, WITHOUT ROWID;

-- Names of places, and what was heard at wetlands of species that are not protected. No coordinate.
CREATE TABLE edition_gazetteer (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    name TEXT NOT NULL,
    kind TEXT NOT NULL,
    area TEXT NOT NULL,
    wetland_short TEXT NOT NULL,
    PRIMARY KEY (edition, name, kind, area, wetland_short)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_wetland (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    wetland_id TEXT NOT NULL,
    short TEXT NOT NULL,
    name TEXT,
    area TEXT NOT NULL,
    stations INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    first_season INTEGER NOT NULL,
    last_season INTEGER NOT NULL,
    PRIMARY KEY (edition, short)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_wetland_season (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    wetland_id TEXT NOT NULL,
    season INTEGER NOT NULL,
    surveys INTEGER NOT NULL,
    PRIMARY KEY (edition, wetland_id, season)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_wetland_calls (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    wetland_id TEXT NOT NULL,
    species_id TEXT NOT NULL,
    season INTEGER NOT NULL,
    visits INTEGER NOT NULL,
    visits_heard INTEGER NOT NULL,
    mean_call_level REAL NOT NULL,
    highest_call_level INTEGER NOT NULL,
    PRIMARY KEY (edition, wetland_id, species_id, season)
) STRICT, WITHOUT ROWID;

-- The last season's calling and score set beside earlier ones, and what of the listening is missing.
CREATE TABLE edition_calling_change (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    species_id TEXT NOT NULL,
    place INTEGER NOT NULL,
    since TEXT NOT NULL,
    from_first INTEGER NOT NULL,
    from_last INTEGER NOT NULL,
    season INTEGER NOT NULL,
    surveys_before INTEGER NOT NULL,
    surveys_now INTEGER NOT NULL,
    mean_before REAL NOT NULL,
    mean_now REAL NOT NULL,
    total REAL,
    total_lower REAL,
    total_upper REAL,
    stations REAL,
    visits REAL,
    windows REAL,
    observers REAL,
    method REAL,
    heard REAL,
    heard_lower REAL,
    heard_upper REAL,
    stop TEXT NOT NULL,
    stopped_at TEXT,
    shared_wetlands INTEGER NOT NULL,
    shared_surveys INTEGER NOT NULL,
    PRIMARY KEY (edition, area, species_id, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_score_change (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    place INTEGER NOT NULL,
    since TEXT NOT NULL,
    from_season INTEGER NOT NULL,
    season INTEGER NOT NULL,
    points REAL NOT NULL,
    lower REAL,
    upper REAL,
    species_split INTEGER NOT NULL,
    species_compared INTEGER NOT NULL,
    PRIMARY KEY (edition, area, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_score_change_line (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    place INTEGER NOT NULL,
    line INTEGER NOT NULL,
    step TEXT,
    part TEXT NOT NULL,
    species_id TEXT,
    points REAL NOT NULL,
    PRIMARY KEY (edition, area, place, line)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition_gap (
    edition INTEGER NOT NULL REFERENCES edition (number) ON DELETE CASCADE,
    area TEXT NOT NULL,
    season INTEGER NOT NULL,
    stations_before INTEGER NOT NULL,
    stations_missed INTEGER NOT NULL,
    windows INTEGER NOT NULL,
    windows_without INTEGER NOT NULL,
    parts INTEGER NOT NULL,
    parts_without INTEGER NOT NULL,
    PRIMARY KEY (edition, area, season)
) STRICT, WITHOUT ROWID;

-- The score's presence and sensitivity with every species not heard taken for absent.
ALTER TABLE edition_condition ADD COLUMN presence_raw_part REAL;
ALTER TABLE edition_condition ADD COLUMN sensitivity_raw_part REAL;

PRAGMA user_version = 4;
