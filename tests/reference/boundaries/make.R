# Tables of counts whose maximum lies on the boundary, or that say nothing at all: what the answer must be, by reasoning,
# with the finite parts from stats::glm.
#
# Reasoning (Ford 1957; Correia, Guimaraes & Zylkin 2019): a call in season t at a station that was also surveyed in u
# bounds the log ratio of u to t from above; draw t -> u. Where the arrows lead both ways (directly or round about) the
# ratio is finite; where they lead one way only, the season they lead to is infinitely below (index 0) and the season they
# come from infinitely above; where they do not lead, nothing is known. The mean over the baseline is that of the seasons'
# limits, zeros included; it needs one group of mutually linked baseline seasons that the rest of the baseline lies below.
# The slope is minus (plus) infinity when every station's calls all fall in its first (last) surveyed season.
#
# Each expectation below was reasoned by hand. The script then lets glm run away on the same table for 30 steps and stops
# if what it runs towards contradicts the reasoning.
source("../common.R")
about <- "by reasoning (see make.R), finite parts by stats::glm"

# One row a station: y by season, NA where the station was not surveyed. Effort is 1 visit unless given.
station <- function(name, y, n = NULL, wetland = name) list(name = name, y = y, n = n, wetland = wetland)
cases <- list(
  never_heard = list(seasons = 1:3, baseline = 1:3, slope = "never_heard", index = c("silent", "silent", "silent"),
    why = "no call anywhere", stations = list(station("a", c(0, 0, 0)), station("b", c(0, NA, 0)))),
  one_station = list(seasons = 1:4, baseline = 1:3, slope = "finite", index = rep("finite", 4),
    why = "one station: the ratios of its own means", stations = list(station("a", c(2, 5, 1, 4), c(2, 3, 1, 2)))),
  all_calls_at_one_station = list(seasons = 1:4, baseline = 1:3, slope = "finite", index = rep("finite", 4),
    why = "the silent stations carry no information",
    stations = list(station("a", c(2, 5, 1, 4), c(2, 3, 1, 2)), station("b", c(0, 0, 0, 0)), station("c", c(NA, 0, 0, NA)))),
  one_season = list(seasons = 1, baseline = 1, slope = "one_season", index = "finite",
    why = "nothing to compare with", stations = list(station("a", 2), station("b", 1))),
  one_season_each = list(seasons = 1:2, baseline = 1:2, slope = "one_season", index = c("silent", "silent"),
    why = "no station was surveyed twice, so the two seasons cannot be compared",
    stations = list(station("a", c(2, NA)), station("b", c(NA, 1)))),
  silent_season = list(seasons = 1:4, baseline = 1:3, slope = "finite", index = c("finite", "zero", "finite", "finite"),
    why = "nobody heard it in season 2, a baseline season: 0, and 0 in the baseline's mean",
    stations = list(station("a", c(2, 0, 3, 1)), station("b", c(1, 0, NA, 4)), station("c", c(3, 0, 1, NA)))),
  silent_last_season = list(seasons = 1:4, baseline = 1:3, slope = "finite", index = c("finite", "finite", "finite", "zero"),
    why = "nobody heard it in the last season",
    stations = list(station("a", c(2, 1, 3, 0)), station("b", c(1, 2, NA, 0)), station("c", c(3, NA, 1, 0)))),
  silent_baseline = list(seasons = 1:5, baseline = 1:3, slope = "finite", index = rep("silent", 5),
    why = "nobody heard it in any baseline season",
    stations = list(station("a", c(0, 0, 0, 2, 1)), station("b", c(0, 0, NA, 1, 3)), station("c", c(NA, 0, 0, 1, 0)))),
  only_in_first_seasons = list(seasons = 1:4, baseline = 1:3, slope = "minus_infinity", index = c("finite", "zero", "zero", "zero"),
    why = "each station heard it in its first season only; 2 lies infinitely below 1, and 3 and 4 below both",
    stations = list(station("a", c(3, 0, 0, NA)), station("b", c(NA, 2, 0, 0)), station("c", c(1, NA, NA, 0)))),
  only_in_last_seasons = list(seasons = 1:4, baseline = 1:3, slope = "plus_infinity", index = c("zero", "zero", "finite", "above"),
    why = "each station heard it in its last season only; 4 lies infinitely above the baseline",
    stations = list(station("a", c(0, 0, 3, NA)), station("b", c(NA, 0, 0, 2)), station("c", c(0, NA, NA, 1)))),
  first_here_last_there = list(seasons = 1:3, baseline = 1:3, slope = "finite", index = c("finite", "zero", "finite"),
    why = "first seasons at one station, last seasons at another: the slope is finite",
    stations = list(station("a", c(3, 0, 0)), station("b", c(0, 0, 2)))),
  separated_below = list(seasons = 1:4, baseline = 1, slope = "finite", index = c("finite", "zero", "zero", "zero"),
    why = "every season has calls, yet all others lie infinitely below season 1: station a alone links them",
    stations = list(station("a", c(3, 0, 0, NA)), station("b", c(NA, 2, 4, 1)), station("c", c(NA, 1, 0, 3)))),
  separated_above = list(seasons = 1:4, baseline = 2:3, slope = "finite", index = c("above", "finite", "finite", "finite"),
    why = "the same calls with the baseline in the lower group: season 1 lies infinitely above it",
    stations = list(station("a", c(3, 0, 0, NA)), station("b", c(NA, 2, 4, 1)), station("c", c(NA, 1, 0, 3)))),
  separated_baseline = list(seasons = 1:4, baseline = 1:3, slope = "finite", index = c("finite", "zero", "zero", "zero"),
    why = "the same calls with the baseline across both groups: season 1 carries its mean alone",
    stations = list(station("a", c(3, 0, 0, NA)), station("b", c(NA, 2, 4, 1)), station("c", c(NA, 1, 0, 3)))),
  islands = list(seasons = 1:4, baseline = 1:2, slope = "finite", index = c("finite", "finite", "unlinked", "unlinked"),
    why = "no station was surveyed on both sides of the gap between 2 and 3; the slope is the one within each island",
    stations = list(station("a", c(3, 1, NA, NA)), station("b", c(1, 2, NA, NA)), station("c", c(NA, NA, 2, 3)), station("d", c(NA, NA, 1, 3)))),
  islands_baseline_across = list(seasons = 1:4, baseline = 1:3, slope = "finite", index = rep("silent", 4),
    why = "the same with a baseline on both sides: its seasons cannot be compared with each other",
    stations = list(station("a", c(3, 1, NA, NA)), station("b", c(1, 2, NA, NA)), station("c", c(NA, NA, 2, 3)), station("d", c(NA, NA, 1, 3)))),
  missing_years = list(seasons = c(2001, 2002, 2005, 2011), baseline = c(2001, 2002, 2005), slope = "finite", index = rep("finite", 4),
    why = "years without surveys count in the distance between seasons",
    stations = list(station("a", c(2, 3, 1, 1), c(1, 2, 1, 3)), station("b", c(3, NA, 2, 0)), station("c", c(1, 4, NA, 2), c(2, 2, 2, 2)))))

as_cells <- function(case) do.call(rbind, lapply(case$stations, function(s) {
  n <- if (is.null(s$n)) rep(1, length(s$y)) else s$n
  data.frame(cluster = s$wetland, unit = s$name, season = case$seasons, y = s$y, n = n, weight = 1)[!is.na(s$y), ]
}))

# Where a plain glm drifts to in 30 steps: the slope, and the log ratios that it can see at all.
drift <- function(cells, formula) suppressWarnings(coef(glm(formula, poisson, cells, control = glm.control(epsilon = 1e-300, maxit = 30))))

# The index by glm among the seasons expected to be finite. Seasons infinitely below are left out: at the limit their
# stations' other seasons carry all their calls. Stations whose calls lie infinitely above contribute nothing below.
finite_index <- function(cells, case) {
  kept <- case$seasons[case$index == "finite"]
  part <- cells[cells$season %in% kept, ]
  above <- cells[cells$season %in% case$seasons[case$index == "above"] & cells$y > 0, "unit"]
  part <- part[!(part$unit %in% above) & part$unit %in% names(which(tapply(part$y, part$unit, sum) > 0)), ]
  value <- setNames(numeric(length(kept)), kept)
  if (length(kept) > 1) {
    part$unit <- factor(part$unit)
    part$column <- factor(part$season)
    formula <- if (nlevels(part$unit) > 1) y ~ unit + column + offset(log(n)) else y ~ column + offset(log(n))
    value[-1] <- coef(polished_glm(formula, part))[paste0("column", kept[-1])]
  }
  limits <- setNames(rep(0, length(case$seasons)), case$seasons)
  limits[as.character(kept)] <- exp(value)
  100 * limits / mean(limits[as.character(case$baseline)])
}

check_case <- function(name, cells, case) {
  heard <- cells[cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
  if (nrow(heard) == 0 || case$slope == "one_season") return(invisible())
  heard$unit <- factor(heard$unit)
  heard$column <- factor(heard$season)
  one <- nlevels(heard$unit) == 1
  heard$t <- heard$season - mean(case$seasons)
  slope <- drift(heard, if (one) y ~ t + offset(log(n)) else y ~ unit + t + offset(log(n)))["t"]
  seen <- if (slope < -8) "minus_infinity" else if (slope > 8) "plus_infinity" else "finite"
  if (seen != case$slope) stop(name, ": glm's slope runs to ", slope)
  if (all(case$index == "silent")) return(invisible())
  annual <- if (one) y ~ column + offset(log(n)) else y ~ unit + column + offset(log(n))
  design <- model.matrix(annual, heard)
  separate <- qr(design)$rank < ncol(design)
  if (any(case$index == "unlinked") != separate) stop(name, ": the seasons' links are otherwise")
  if (separate) return(invisible())
  ratio <- c(0, drift(heard, annual)[paste0("column", case$seasons[-1])])
  seen <- 100 * exp(ratio - max(ratio)) / mean(exp(ratio - max(ratio))[match(case$baseline, case$seasons)])
  kind <- ifelse(seen > 1e6, "above", ifelse(seen < 1e-4, "zero", "finite"))
  if (any(kind != case$index)) stop(name, ": glm's index runs to ", paste(signif(seen, 4), collapse = " "))
  finite <- case$index == "finite"
  if (any(abs(seen - finite_index(cells, case))[finite] > 1e-3)) stop(name, ": the finite indices differ")
}

all_cells <- all_expected <- about_cases <- NULL
for (name in names(cases)) {
  case <- cases[[name]]
  cells <- as_cells(case)
  check_case(name, cells, case)
  all_cells <- rbind(all_cells, cbind(case = name, cells))
  about_cases <- rbind(about_cases, data.frame(case = name, baseline = paste(case$baseline, collapse = " "), why = gsub(",", ";", case$why)))
  slope <- NA
  if (case$slope == "finite") {
    heard <- cells[cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
    heard$unit <- factor(heard$unit)
    heard$t <- heard$season - mean(case$seasons)
    slope <- coef(polished_glm(if (nlevels(heard$unit) > 1) y ~ unit + t + offset(log(n)) else y ~ t + offset(log(n)), heard))["t"]
  }
  index <- ifelse(case$index == "zero", 0, ifelse(case$index == "finite", finite_index(cells, case), NA))
  all_expected <- rbind(all_expected,
    data.frame(case = name, term = "slope", status = case$slope, value = unname(slope)),
    data.frame(case = name, term = case$seasons, status = case$index, value = index))
}
write_reference(about_cases, "cases.csv", about, 0)
write_reference(all_cells, "cells.csv", about, 0)
write_reference(all_expected, "expected.csv", about, 1e-9)
