-- What people call a species in other languages: an object of languages and names; null where there is none.
ALTER TABLE species ADD COLUMN other_names TEXT CHECK (other_names IS NULL OR json_valid(other_names));
ALTER TABLE edition_species ADD COLUMN other_names TEXT CHECK (other_names IS NULL OR json_valid(other_names));
PRAGMA user_version = 7;
