-- Counts made over the stations alone that heard a protected species could tell which stations these are, so they are left out. A column that had to have a
-- value may now be empty; editions made before lose such counts of their protected species too, which is all that changes in them.
ALTER TABLE edition_trend RENAME COLUMN stations TO stations_of_all;
ALTER TABLE edition_trend ADD COLUMN stations INTEGER;
ALTER TABLE edition_trend RENAME COLUMN surveys TO surveys_of_all;
ALTER TABLE edition_trend ADD COLUMN surveys INTEGER;
ALTER TABLE edition_trend RENAME COLUMN silent_stations TO silent_stations_of_all;
ALTER TABLE edition_trend ADD COLUMN silent_stations INTEGER;
UPDATE edition_trend SET stations = stations_of_all, surveys = surveys_of_all, silent_stations = silent_stations_of_all
WHERE species_id NOT IN (SELECT species_id FROM edition_species WHERE edition = edition_trend.edition AND protected = 1);
ALTER TABLE edition_trend DROP COLUMN stations_of_all;
ALTER TABLE edition_trend DROP COLUMN surveys_of_all;
ALTER TABLE edition_trend DROP COLUMN silent_stations_of_all;

ALTER TABLE edition_step_trend RENAME COLUMN stations TO stations_of_all;
ALTER TABLE edition_step_trend ADD COLUMN stations INTEGER;
ALTER TABLE edition_step_trend RENAME COLUMN surveys TO surveys_of_all;
ALTER TABLE edition_step_trend ADD COLUMN surveys INTEGER;
ALTER TABLE edition_step_trend RENAME COLUMN silent_stations TO silent_stations_of_all;
ALTER TABLE edition_step_trend ADD COLUMN silent_stations INTEGER;
UPDATE edition_step_trend SET stations = stations_of_all, surveys = surveys_of_all, silent_stations = silent_stations_of_all
WHERE species_id NOT IN (SELECT species_id FROM edition_species WHERE protected = 1
    AND edition IN (SELECT after FROM edition_step WHERE number = edition_step_trend.step));
ALTER TABLE edition_step_trend DROP COLUMN stations_of_all;
ALTER TABLE edition_step_trend DROP COLUMN surveys_of_all;
ALTER TABLE edition_step_trend DROP COLUMN silent_stations_of_all;

ALTER TABLE edition_trend_variant RENAME COLUMN clusters TO clusters_of_all;
ALTER TABLE edition_trend_variant ADD COLUMN clusters INTEGER;
ALTER TABLE edition_trend_variant RENAME COLUMN stations TO stations_of_all;
ALTER TABLE edition_trend_variant ADD COLUMN stations INTEGER;
ALTER TABLE edition_trend_variant RENAME COLUMN surveys TO surveys_of_all;
ALTER TABLE edition_trend_variant ADD COLUMN surveys INTEGER;
UPDATE edition_trend_variant SET clusters = clusters_of_all, stations = stations_of_all, surveys = surveys_of_all
WHERE species_id NOT IN (SELECT species_id FROM edition_species WHERE edition = edition_trend_variant.edition AND protected = 1);
ALTER TABLE edition_trend_variant DROP COLUMN clusters_of_all;
ALTER TABLE edition_trend_variant DROP COLUMN stations_of_all;
ALTER TABLE edition_trend_variant DROP COLUMN surveys_of_all;

ALTER TABLE edition_index RENAME COLUMN mean_call_level TO mean_call_level_of_all;
ALTER TABLE edition_index ADD COLUMN mean_call_level REAL;
ALTER TABLE edition_index RENAME COLUMN stations TO stations_of_all;
ALTER TABLE edition_index ADD COLUMN stations INTEGER;
ALTER TABLE edition_index RENAME COLUMN surveys TO surveys_of_all;
ALTER TABLE edition_index ADD COLUMN surveys INTEGER;
UPDATE edition_index SET mean_call_level = mean_call_level_of_all, stations = stations_of_all, surveys = surveys_of_all
WHERE species_id NOT IN (SELECT species_id FROM edition_species WHERE edition = edition_index.edition AND protected = 1);
ALTER TABLE edition_index DROP COLUMN mean_call_level_of_all;
ALTER TABLE edition_index DROP COLUMN stations_of_all;
ALTER TABLE edition_index DROP COLUMN surveys_of_all;

ALTER TABLE edition_evidence RENAME COLUMN one_station_seasons TO one_station_seasons_of_all;
ALTER TABLE edition_evidence ADD COLUMN one_station_seasons INTEGER;
UPDATE edition_evidence SET one_station_seasons = one_station_seasons_of_all
WHERE species_id NOT IN (SELECT species_id FROM edition_species WHERE edition = edition_evidence.edition AND protected = 1);
ALTER TABLE edition_evidence DROP COLUMN one_station_seasons_of_all;

ALTER TABLE edition_occupancy_rates RENAME COLUMN wetlands_heard TO wetlands_heard_of_all;
ALTER TABLE edition_occupancy_rates ADD COLUMN wetlands_heard INTEGER;
UPDATE edition_occupancy_rates SET wetlands_heard = wetlands_heard_of_all
WHERE species_id NOT IN (SELECT species_id FROM edition_species WHERE edition = edition_occupancy_rates.edition AND protected = 1);
ALTER TABLE edition_occupancy_rates DROP COLUMN wetlands_heard_of_all;

ALTER TABLE edition_effect RENAME COLUMN missing TO missing_of_all;
ALTER TABLE edition_effect ADD COLUMN missing INTEGER;
ALTER TABLE edition_effect RENAME COLUMN surveys TO surveys_of_all;
ALTER TABLE edition_effect ADD COLUMN surveys INTEGER;
UPDATE edition_effect SET missing = missing_of_all, surveys = surveys_of_all
WHERE species_id NOT IN (SELECT species_id FROM edition_species WHERE edition = edition_effect.edition AND protected = 1);
ALTER TABLE edition_effect DROP COLUMN missing_of_all;
ALTER TABLE edition_effect DROP COLUMN surveys_of_all;

UPDATE edition_evidence SET dispersion_df = NULL, zero_cell_share = NULL
WHERE species_id IN (SELECT species_id FROM edition_species WHERE edition = edition_evidence.edition AND protected = 1);
PRAGMA user_version = 9;
