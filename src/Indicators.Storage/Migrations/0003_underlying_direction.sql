-- Which way a species goes beneath good and bad springs that all wetlands share; null in editions made before.
ALTER TABLE edition_trend ADD COLUMN lower_underlying REAL;
ALTER TABLE edition_trend ADD COLUMN upper_underlying REAL;
ALTER TABLE edition_trend ADD COLUMN season_sd REAL;
PRAGMA user_version = 3;
