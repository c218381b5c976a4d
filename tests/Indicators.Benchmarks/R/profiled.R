# What R needs for the same work as the engine's hot loop: trend and annual refits of every resample, station effects
# profiled out, all resamples of a series at once as matrix work (tests/reference/folder/profiled_fits.R). One process.
#   Rscript tests/Indicators.Benchmarks/R/profiled.R [AREAS] [RESAMPLES]      from anywhere; defaults 4 and 1000
# A state's programme: 60 watersheds of 25 stations (one a wetland), 20 seasons of which three quarters of the station-seasons
# were run, 3 visits, 15 species of different loudness. So many AREAS are simulated and fitted; the time for 60 is
# extrapolated, and said to be. Prints, as "name value" lines, what a benchmark needs to report a ratio.
#
# The engine's loop stops at steps of 1e-6 (trend, then about 1e-12 is left) and some 1e-4 from the annual maximum; this one at such steps. The baseline's
# mean, the stretched draws and their quantiles are included; making the resampling plan is not (a millisecond an area).
arguments <- commandArgs(TRUE)
areas <- if (length(arguments) > 0) as.integer(arguments[1]) else 4L
resamples <- if (length(arguments) > 1) as.integer(arguments[2]) else 1000L
here <- dirname(normalizePath(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE))))
source(file.path(here, "..", "..", "reference", "folder", "profiled_fits.R"))

stations <- 25; seasons <- 20; species <- 15; visits <- 3; state_areas <- 60
suppressWarnings(RNGversion("4.2.0"))
set.seed(60)
t <- 2000 + seq_len(seasons)
clock <- c(trend = 0, annual = 0, intervals = 0)
timed <- function(name, expression) {
  began <- proc.time()[["elapsed"]]
  value <- expression
  clock[name] <<- clock[name] + proc.time()[["elapsed"]] - began
  value
}
series <- 0
lost <- 0
cpu_before <- sum(proc.time()[1:2])
for (area in seq_len(areas)) {
  run <- matrix(runif(stations * seasons) < .75, stations)
  W <- t(rmultinom(resamples, stations, rep(1, stations)))
  stretch <- sqrt(stations / (stations - 1)) * qt(.975, stations - 1) / qnorm(.975)
  for (k in seq_len(species)) {
    N <- run * visits
    mean_level <- exp(rnorm(stations, -1.2 + 1.8 * (k - 1) / (species - 1), .6)) %o% exp(runif(1, -.05, .03) * (t - t[1]) + rnorm(seasons, 0, .15))
    Y <- matrix(0, stations, seasons)
    for (visit in seq_len(visits)) Y <- Y + pmin(3, matrix(rpois(stations * seasons, mean_level), stations)) * run
    heard <- rowSums(Y) > 0
    series <- series + 1
    Y <- Y[heard, ]; N <- N[heard, ]; w <- W[, heard]
    one <- matrix(1, 1, nrow(Y))
    beta <- timed("trend", trend_draws(Y, N, one, t))
    draws <- timed("trend", trend_draws(Y, N, w, t, start = beta, tolerance = 1e-6))
    index <- timed("annual", index_draws(Y, N, one, 1:3))
    start <- ifelse(index > 0, log(index), 0)
    index_b <- timed("annual", index_draws(Y, N, w, 1:3, start = as.vector(start), tolerance = 1e-4))
    lost <- lost + sum(is.na(index_b[, 1]))
    timed("intervals", {
      quantile(beta + stretch * (draws - beta), c(.025, .975), type = 6)
      for (j in seq_len(seasons)) if (index[j] > 0)
        quantile(exp(log(index[j]) + stretch * (log(index_b[, j]) - log(index[j]))), c(.025, .975), type = 6, na.rm = TRUE)
    })
  }
}
cpu <- sum(proc.time()[1:2]) - cpu_before   # simulating included, a few per cent; on a busy machine the fairer figure
fits <- series * resamples
seconds <- sum(clock)
cat("r_version", as.character(getRversion()), "\n")
cat("blas", extSoftVersion()[["BLAS"]], "\n")
cat("series", series, "\n")
cat("resamples", resamples, "\n")
cat("seconds_trend", round(clock[["trend"]], 3), "\n")
cat("seconds_annual", round(clock[["annual"]], 3), "\n")
cat("seconds_intervals", round(clock[["intervals"]], 3), "\n")
cat("seconds", round(seconds, 3), "\n")
cat("seconds_cpu", round(cpu, 3), "\n")
cat("resamples_without_index", lost, "\n")
cat("fits_per_second", round(fits / seconds), "   (a fit: one resample of one series, trend and annual)\n")
cat("microseconds_per_fit", round(1e6 * seconds / fits, 2), "\n")
cat("seconds_for_the_state_extrapolated", round(seconds / areas * state_areas, 1), "\n")
