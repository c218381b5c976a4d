-- The trend in which every station counts alike, to see how much it hangs on the loud ones; null in editions made before.
ALTER TABLE edition_trend ADD COLUMN equal_stations_percent REAL;
PRAGMA user_version = 5;
