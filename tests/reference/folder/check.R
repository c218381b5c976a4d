# Works out an import folder's whole answer in R, from the written definitions, and compares an export with it.
#   Rscript tests/reference/folder/check.R FOLDER EXPORT_DIR [RESAMPLES] [ENGINE_RESAMPLES]      both 2000 by default
# FOLDER is what was imported (watersheds, stations, species, surveys, calls, expected as CSV with plain headings, every row
# acceptable, no protected species). EXPORT_DIR holds trends.csv and indices.csv as `indicators export` wrote them with default
# settings. Compared, for every area that the codes imply and every species:
#   first_season, last_season, clusters, stations, surveys   exactly
#   percent_per_season, index, upper of a silent season      to 1e-8 relative, with stats::glm, epsilon 1e-14; the last by the rule of three
#   lower, upper                                             within half a bootstrap standard deviation of the same kind of
#                                                            interval from R's own draws (another generator, so never equal);
#                                                            ends further apart are listed, and fail unless chance explains them
# Prints what it compared and PASS or FAIL; exit 0 or 1.
arguments <- commandArgs(TRUE)
if (length(arguments) < 2) { message("usage: check.R FOLDER EXPORT_DIR [RESAMPLES]"); quit(status = 2) }
folder <- arguments[1]
exported <- arguments[2]
resamples <- if (length(arguments) > 2) as.integer(arguments[3]) else 2000L
engine_resamples <- if (length(arguments) > 3) as.integer(arguments[4]) else 2000L
here <- dirname(normalizePath(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE))))
source(file.path(here, "..", "common.R"))
source(file.path(here, "profiled_fits.R"))
suppressWarnings(RNGversion("4.2.0"))
set.seed(9901)
minimum_clusters <- 5
minimum_seasons <- 5
most_lost <- .05

read <- function(file) read.csv(file, colClasses = "character", na.strings = character())
table_of <- function(name) read(file.path(folder, paste0(name, ".csv")))
stations <- table_of("stations")
if (is.null(stations$weight)) stations$weight <- ""
stations$weight <- ifelse(stations$weight == "", 1, as.numeric(stations$weight))
species <- table_of("species")
surveys <- table_of("surveys")
calls <- table_of("calls")
expected <- if (file.exists(file.path(folder, "expected.csv"))) table_of("expected") else data.frame(watershed_code = character(), species_id = character())
trends <- read(file.path(exported, "trends.csv"))
indices <- read(file.path(exported, "indices.csv"))

failures <- excused <- character()
fail <- function(...) failures <<- c(failures, paste0(...))

# --- from visits to cells ---------------------------------------------------------------------------------------------

leap <- function(year) (year %% 4 == 0 & year %% 100 != 0) | year %% 400 == 0
surveys$year <- as.integer(substr(surveys$date, 1, 4))
surveys$day <- substr(surveys$date, 6, 10)
place <- match(surveys$station_id, stations$station_id)

# The window of one species at each station: of the smallest watershed around it whose expected row gives one, else its own.
windows_of <- function(k) {
  own <- species[species$species_id == k, ]
  start <- rep(own$window_start, nrow(stations))
  end <- rep(own$window_end, nrow(stations))
  rows <- expected[expected$species_id == k, ]
  for (i in order(nchar(rows$watershed_code))) {
    if (is.null(rows$window_start) || rows$window_start[i] == "") next
    inside <- startsWith(stations$watershed_code, rows$watershed_code[i])
    start[inside] <- rows$window_start[i]
    end[inside] <- rows$window_end[i]
  }
  data.frame(start, end)
}

# Season of every survey for one species, NA outside its window: the calendar year in which the window opened.
season_of <- function(k) {
  windows <- windows_of(k)[place, ]
  start <- ifelse(windows$start == "02-29" & !leap(surveys$year), "02-28", windows$start)
  end <- windows$end
  wraps <- windows$end < windows$start
  ifelse(!wraps, ifelse(surveys$day >= start & surveys$day <= end, surveys$year, NA),
    ifelse(surveys$day >= start, surveys$year, ifelse(surveys$day <= end, surveys$year - 1L, NA)))
}

areas <- sort(unique(unlist(lapply(unique(stations$watershed_code[place]), function(code) substring(code, 1, seq(2, nchar(code), 2))))))
if (!setequal(areas, trends$watershed_code)) fail("areas: R finds ", paste(areas, collapse = " "), "; exported ", paste(unique(trends$watershed_code), collapse = " "))
if (anyDuplicated(trends[c("watershed_code", "species_id")])) fail("trends: an area and species twice")
if (anyDuplicated(indices[c("watershed_code", "species_id", "season")])) fail("indices: an area, species and season twice")

cells <- lapply(setNames(species$species_id, species$species_id), function(k) {
  season <- season_of(k)
  heard <- calls[calls$species_id == k, ]
  level <- as.integer(heard$call_index[match(surveys$survey_id, heard$survey_id)])
  level[is.na(level)] <- 0L
  keep <- !is.na(season)
  one <- data.frame(station = surveys$station_id, season = season, y = level, n = 1L)[keep, ]
  if (nrow(one) == 0) NULL else aggregate(cbind(y, n) ~ station + season, one, sum)
})

# --- comparing ---------------------------------------------------------------------------------------------------------

compared <- c(trends = 0, percents = 0, indices = 0, counts = 0, trend_ends = 0, index_ends = 0, no_interval = 0, near_edge = 0, silent = 0)
worst <- c(percent = 0, index = 0, silent = 0, profiled = 0, trend_end = 0, index_end = 0)
note <- function(what, value) if (is.finite(value)) worst[what] <<- max(worst[what], value)
relative <- function(a, b) abs(a - b) / max(abs(b), 1e-3)

same_number <- function(label, what, text, value, floor = 1e-3) {
  if (is.na(value)) { if (text != "") fail(label, ": exported ", text, ", R has none"); return(invisible()) }
  if (text == "") { fail(label, ": exported none, R ", format(value, digits = 15)); return(invisible()) }
  difference <- abs(as.numeric(text) - value) / max(abs(value), floor)
  note(what, difference)
  if (!(difference <= 1e-8)) fail(label, ": exported ", text, ", R ", format(value, digits = 15))
}
same_count <- function(label, text, value) {
  compared["counts"] <<- compared["counts"] + 1
  if (text != as.character(value)) fail(label, ": exported ", text, ", R counts ", value)
}

# One end of an interval, from the stretched draws on the log scale. An infinite end must be exported as `edge`. Beyond half
# a bootstrap standard deviation is a miss; it is excused, and counted as such, only where the export lies among the
# quantiles that two runs of so many resamples can be apart by chance (four standard errors of the rank).
same_end <- function(label, what, text, draws, stretch, probability, edge, from_text) {
  infinite <- mean(draws == if (probability < .5) -Inf else Inf)
  tail <- min(probability, 1 - probability)
  rank_error <- 4 * sqrt(tail * (1 - tail) * (1 / length(draws) + 1 / engine_resamples))
  if (infinite > 0 && abs(infinite - tail) < rank_error) { compared["near_edge"] <<- compared["near_edge"] + 1; return(invisible()) }
  value <- quantile(draws, probability, type = 6, names = FALSE)
  if (is.infinite(value)) {
    if (text != edge) fail(label, ": exported ", text, ", R's end is ", value)
    return(invisible())
  }
  if (text == "") { fail(label, ": exported none, R ", value, " (log scale)"); return(invisible()) }
  compared[what] <<- compared[what] + 1
  given <- from_text(as.numeric(text))
  difference <- abs(given - value) / (sd(draws[is.finite(draws)]) / stretch)
  note(sub("s$", "", what), difference)
  if (difference <= .5) return(invisible())
  range <- quantile(draws, pmin(1, pmax(0, probability + c(-1, 1) * rank_error)), type = 6, names = FALSE)
  message <- paste0(label, ": exported ", text, ", R ", signif(value, 6), " (log scale), ", round(difference, 2), " bootstrap standard deviations apart")
  if (given >= range[1] && given <= range[2]) excused <<- c(excused, message) else fail(message)
}
no_interval <- function(label, row) {
  compared["no_interval"] <<- compared["no_interval"] + 1
  if (row$lower != "" || row$upper != "") fail(label, ": exported an interval, R has none")
}

glm_slope <- function(part) {
  part$unit <- factor(part$station)
  part$t <- part$season - mean(range(part$season))
  unname(coef(polished_glm(if (nlevels(part$unit) > 1) y ~ 0 + unit + t + offset(log(n)) else y ~ t + offset(log(n)), part))["t"])
}

# By glm among the seasons that can be compared finitely (limit is what the limit of the likelihood says: NA, 0 or finite).
glm_index <- function(part, limit, seasons, baseline) {
  linked <- seasons[!is.na(limit) & limit > 0]
  values <- setNames(ifelse(is.na(limit), NA, 0), seasons)
  values[as.character(linked)] <- 1
  if (length(linked) > 1) {
    part <- part[part$season %in% linked, ]
    part <- part[part$station %in% names(which(tapply(part$y, part$station, sum) > 0)), ]
    part$unit <- factor(part$station)
    part$column <- factor(part$season, levels = linked)
    fit <- polished_glm(if (nlevels(part$unit) > 1) y ~ 0 + unit + column + offset(log(n)) else y ~ column + offset(log(n)), part)
    values[as.character(linked)] <- exp(c(0, coef(fit)[paste0("column", linked[-1])]))
  }
  100 * unname(values) / mean(values[baseline])
}

for (area in areas) {
  within <- stations[startsWith(stations$watershed_code, area) & stations$station_id %in% surveys$station_id, ]
  # What is drawn: all surveyed wetlands, or stations where there is only one wetland. One set of draws for all species.
  cluster <- if (length(unique(within$wetland_id)) == 1) within$station_id else within$wetland_id
  drawn <- sort(unique(cluster))
  draws <- t(rmultinom(resamples, length(drawn), rep(1, length(drawn))))
  for (k in species$species_id) {
    label <- paste(area, k)
    row <- trends[trends$watershed_code == area & trends$species_id == k, ]
    if (nrow(row) != 1) { fail(label, ": ", nrow(row), " rows in trends"); next }
    compared["trends"] <- compared["trends"] + 1
    part <- cells[[k]][cells[[k]]$station %in% within$station_id, ]
    part <- part[part$station %in% names(which(tapply(part$y, part$station, sum) > 0)), ]
    exported_index <- indices[indices$watershed_code == area & indices$species_id == k, ]
    same_count(paste(label, "stations"), row$stations, length(unique(part$station)))
    same_count(paste(label, "surveys"), row$surveys, sum(part$n))
    same_count(paste(label, "clusters"), row$clusters, length(unique(within$wetland_id[within$station_id %in% part$station])))
    if (nrow(part) == 0) {
      if (any(exported_index$index != "")) fail(label, ": an index of a species never heard")
      same_number(paste(label, "percent_per_season"), "percent", row$percent_per_season, NA)
      no_interval(label, row)
      next
    }
    seasons <- sort(unique(part$season))
    same_count(paste(label, "first_season"), row$first_season, seasons[1])
    same_count(paste(label, "last_season"), row$last_season, seasons[length(seasons)])
    heard <- within[within$station_id %in% part$station, ]
    part$weight <- heard$weight[match(part$station, heard$station_id)]
    Y <- N <- matrix(0, nrow(heard), length(seasons))
    at <- cbind(match(part$station, heard$station_id), match(part$season, seasons))
    Y[at] <- part$y
    N[at] <- part$n
    W <- sweep(draws[, match(cluster[match(heard$station_id, within$station_id)], drawn), drop = FALSE], 2, heard$weight, "*")
    own <- matrix(heard$weight, 1)
    baseline <- seq_len(min(3, length(seasons)))
    # Only stations surveyed in two seasons or more tell anything of a slope, and only the seasons they were surveyed in.
    telling <- rowSums(N > 0) > 1
    K <- length(unique(cluster[match(heard$station_id[telling], within$station_id)]))
    wide_enough <- K >= minimum_clusters && sum(colSums(N[telling, , drop = FALSE]) > 0) >= minimum_seasons
    # Wetlands with a call, and wetlands surveyed, of each season; how many of those surveyed would be heard at the baseline's share.
    units <- cluster[match(heard$station_id, within$station_id)]
    wetlands_heard <- apply(Y > 0, 2, function(yes) length(unique(units[yes])))
    wetlands_surveyed <- apply(N > 0, 2, function(yes) length(unique(units[yes])))
    missed <- wetlands_surveyed * sum(wetlands_heard[baseline]) / sum(wetlands_surveyed[baseline])
    stretch <- if (K > 1) sqrt(K / (K - 1)) * qt(.975, K - 1) / qnorm(.975) else NA

    # trend
    profiled <- trend_draws(Y, N, own, seasons)
    slope <- if (is.finite(profiled)) glm_slope(part) else NA
    if (!is.na(slope)) { note("profiled", relative(profiled, slope)); compared["percents"] <- compared["percents"] + 1 }
    same_number(paste(label, "percent_per_season"), "percent", row$percent_per_season, 100 * expm1(slope), floor = 1e-4)
    beta <- if (wide_enough && !is.na(slope)) trend_draws(Y, N, W, seasons, start = slope) else NA
    if (is.na(slope) || !wide_enough || mean(is.na(beta)) > most_lost) {
      no_interval(paste(label, "trend"), row)
    } else {
      beta <- beta[!is.na(beta)]
      stretched <- ifelse(is.infinite(beta), beta, slope + stretch * (beta - slope))
      same_end(paste(label, "trend lower"), "trend_ends", row$lower, stretched, stretch, .025, "", function(x) log1p(x / 100))
      same_end(paste(label, "trend upper"), "trend_ends", row$upper, stretched, stretch, .975, "", function(x) log1p(x / 100))
    }

    # index
    limit <- index_draws(Y, N, own, baseline)[1, ]
    index <- if (all(is.na(limit))) limit else glm_index(part, limit, seasons, baseline)
    index_b <- if (wide_enough && !all(is.na(index))) index_draws(Y, N, W, baseline, start = ifelse(is.na(index) | index == 0, 0, log(index))) else NULL
    extra <- exported_index[!(exported_index$season %in% seasons), ]
    if (any(extra$index != "")) fail(label, ": an index for seasons without effort: ", paste(extra$season, collapse = " "))
    for (j in seq_along(seasons)) {
      label_j <- paste(label, seasons[j])
      line <- exported_index[exported_index$season == seasons[j], ]
      if (nrow(line) != 1) { fail(label_j, ": ", nrow(line), " rows in indices"); next }
      compared["indices"] <- compared["indices"] + 1
      if (!is.na(index[j])) note("profiled", relative(limit[j], index[j]))
      same_number(paste(label_j, "index"), "index", line$index, index[j])
      same_count(paste(label_j, "stations"), line$stations, sum(N[, j] > 0))
      same_count(paste(label_j, "surveys"), line$surveys, sum(N[, j]))
      if (is.null(index_b) || is.na(index[j]) || mean(is.na(index_b[, j])) > most_lost) { no_interval(label_j, line); next }
      if (index[j] == 0) {
        # Wetlands drawn again bound nothing from above: the rule of three does, where no call was heard at all.
        compared["silent"] <- compared["silent"] + 1
        if (line$lower != "0") fail(label_j, ": the lower end of a silent season is ", line$lower)
        same_number(paste(label_j, "upper of a silent season"), "silent", line$upper, if (wetlands_heard[j] == 0) -100 * log(.05) / missed[j] else NA)
        next
      }
      log_draws <- log(index_b[!is.na(index_b[, j]), j])
      stretched <- log(index[j]) + stretch * (log_draws - log(index[j]))
      same_end(paste(label_j, "index lower"), "index_ends", line$lower, stretched, stretch, .025, "0", log)
      same_end(paste(label_j, "index upper"), "index_ends", line$upper, stretched, stretch, .975, "", log)
    }
  }
}
if (worst["profiled"] > 1e-9) fail("R's own profiled fits differ from glm by ", worst["profiled"], ": the intervals here cannot be trusted")
if (compared["percents"] == 0 || compared["indices"] == 0) fail("nothing was compared")

cat(sprintf("areas %d, species %d, rows of trends %d, of indices %d, counts %d\n", length(areas), nrow(species), compared["trends"], compared["indices"], compared["counts"]))
cat(sprintf("largest relative difference: percent_per_season %.2g (%d), index %.2g, upper ends of silent seasons %.2g (%d); R's profiled fits from glm %.2g\n",
            worst["percent"], compared["percents"], worst["index"], worst["silent"], compared["silent"], worst["profiled"]))
cat(sprintf("interval ends, in bootstrap standard deviations: trends %.3f (%d ends), indices %.3f (%d ends); rightly none %d; too near an infinite end to say %d\n",
            worst["trend_end"], compared["trend_ends"], worst["index_end"], compared["index_ends"], compared["no_interval"], compared["near_edge"]))
for (miss in excused) cat("   beyond half a standard deviation, within Monte Carlo error: ", miss, "\n", sep = "")
for (failure in head(failures, 40)) cat("   ", failure, "\n", sep = "")
ends <- compared[["trend_ends"]] + compared[["index_ends"]]
cat(if (length(failures) > 0) sprintf("FAIL: %d\n", length(failures))
    else if (length(excused) > 0) sprintf("PASS, but for %d of %d ends that chance explains\n", length(excused), ends)
    else "PASS\n")
quit(status = if (length(failures) == 0) 0 else 1)
