-- Pooling reckons with springs that carry over: how residuals answer to shocks by the years between them (packed 64-bit floats, least significant byte
-- first) and what the area tells of how alike its springs are, in place of one norm. Pieces of an older build's unfinished run are not taken up again.
ALTER TABLE edition_slope_part DROP COLUMN response_norm;
ALTER TABLE edition_slope_part ADD COLUMN response BLOB NOT NULL DEFAULT x'';
ALTER TABLE edition_slope_part ADD COLUMN carry_over BLOB NOT NULL DEFAULT x'';
ALTER TABLE edition_pooled ADD COLUMN season_correlation REAL;
ALTER TABLE edition_trend_variant ADD COLUMN season_correlation REAL;
PRAGMA user_version = 8;
