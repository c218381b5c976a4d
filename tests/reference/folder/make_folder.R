# Draws an import folder that nobody has seen: 3 watersheds of an invented region (99), 45 stations, 14 seasons, 4 species.
#   Rscript tests/reference/folder/make_folder.R OUTPUT_FOLDER [SEED]
# In it, on purpose: wetlands with one to three stations; station weights; station-seasons without a visit and one watershed
# without any in one season; a species whose window runs over New Year; windows that differ by watershed; a rare species
# silent in whole seasons and whole watersheds; stations that never hear a species; rows of call level 0; calls outside the
# window, which must not count.
arguments <- commandArgs(TRUE)
if (length(arguments) < 1) { message("usage: make_folder.R OUTPUT_FOLDER [SEED]"); quit(status = 2) }
folder <- arguments[1]
seed <- if (length(arguments) > 1) as.integer(arguments[2]) else sample.int(1e6, 1)
suppressWarnings(RNGversion("4.2.0"))
set.seed(seed)
dir.create(folder, recursive = TRUE, showWarnings = FALSE)
write <- function(table, name) write.csv(table, file.path(folder, name), row.names = FALSE, quote = FALSE, na = "")

watersheds <- data.frame(watershed_code = c("990100010101", "990100010102", "990100010203"), name = c("Upper Sedge Brook", "Lower Sedge Brook", "Alder Fork"))
write(watersheds, "watersheds.csv")

# 15 stations a watershed; 12, 9 and 7 wetlands.
wetlands <- list(c(1:12, 2, 5, 7), c(1:9, 1, 1, 3, 4, 6, 8), c(1:7, 1, 2, 2, 3, 4, 5, 6, 7))
stations <- do.call(rbind, lapply(1:3, function(a) data.frame(
  station_id = sprintf("S%d%02d", a, 1:15), wetland_id = sprintf("W%d%02d", a, wetlands[[a]]), watershed_code = watersheds$watershed_code[a],
  latitude = round(46 + a / 10 + runif(15) / 20, 5), longitude = round(-91 - a / 10 - runif(15) / 20, 5),
  weight = ifelse(runif(15) < .2, sample(c(.5, 2, 1.25), 15, TRUE), 1))))
write(stations, "stations.csv")

species <- data.frame(species_id = c("spring", "summer", "winter", "rare"),
  scientific_name = c("Pseudacris crucifer", "Lithobates clamitans", "Pseudacris feriarum", "Acris blanchardi"),
  common_name = c("Spring peeper", "Green frog", "Upland chorus frog", "Blanchard's cricket frog"),
  window_start = c("03-20", "05-15", "11-20", "05-01"), window_end = c("06-15", "08-10", "03-31", "07-31"),
  sensitivity = c(3, 4, 6, 9), sensitive_location = "false")
write(species, "species.csv")
write(data.frame(watershed_code = c("990100010203", "990100010102", "9901"), species_id = c("spring", "rare", "summer"),
                 window_start = c("04-10", "", "05-20"), window_end = c("06-30", "", "08-05")), "expected.csv")

seasons <- 2011:2024
runs <- list(c("03-15", "04-30"), c("05-01", "06-20"), c("06-21", "08-15"), c("11-15", "12-31"), c("01-01", "03-14"))
surveys <- NULL
for (s in seq_len(nrow(stations))) for (year in seasons) {
  if (stations$watershed_code[s] == "990100010102" && year == 2016) next
  if (runif(1) < .15) next
  for (run in runs) {
    if (runif(1) < .3) next
    days <- seq(as.Date(paste0(year, "-", run[1])), as.Date(paste0(year, "-", run[2])), by = 1)
    surveys <- rbind(surveys, data.frame(station_id = stations$station_id[s], date = format(sample(days, 1)), row = s))
  }
}
surveys <- surveys[sample(nrow(surveys)), ]   # no order to rely on
surveys$survey_id <- sprintf("V%05d", seq_len(nrow(surveys)))
surveys$start_time <- sample(c("21:30", "22:05", "23:10", ""), nrow(surveys), TRUE)
surveys$minutes <- 5
write(surveys[c("survey_id", "station_id", "date", "start_time", "minutes")], "surveys.csv")

loudness <- c(spring = .6, summer = -.2, winter = -.4, rare = -1.2)
slope <- c(spring = -.05, summer = .02, winter = 0, rare = -.12)
calls <- NULL
year_of <- as.integer(substr(surveys$date, 1, 4))
for (k in species$species_id) {
  at_wetland <- setNames(rnorm(length(unique(stations$wetland_id)), 0, .5), unique(stations$wetland_id))
  at_station <- rnorm(nrow(stations), 0, .4)
  deaf <- if (k == "rare") !(stations$watershed_code == "990100010203" & runif(nrow(stations)) < .7) & runif(nrow(stations)) > .1 else runif(nrow(stations)) < .12
  in_year <- setNames(rnorm(length(seasons) + 2, 0, .2), 2010:2025)
  if (k == "rare") in_year[c("2015", "2022")] <- -Inf
  mean_level <- exp(loudness[k] + at_wetland[stations$wetland_id[surveys$row]] + at_station[surveys$row] + slope[k] * (year_of - 2011) + in_year[as.character(year_of)])
  level <- pmin(3, rpois(nrow(surveys), ifelse(deaf[surveys$row], 0, mean_level)))
  written <- level > 0 | runif(nrow(surveys)) < .05
  calls <- rbind(calls, data.frame(survey_id = surveys$survey_id, species_id = k, call_index = level)[written, ])
}
write(calls[sample(nrow(calls)), ], "calls.csv")
cat(sprintf("seed %d: %d stations, %d surveys, %d call rows\n", seed, nrow(stations), nrow(surveys), nrow(calls)))
