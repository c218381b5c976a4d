# A second invented programme: 19 stations in 8 wetlands, nine seasons 2011-2019, half of the station-seasons missing,
# station weights between 0.25 and 3 (a sampling design's), two stations that never hear the species, one that was
# surveyed in a single season, one wetland whose only station is silent. The truth: +6 % per season.
source("../common.R")
about <- "simulated in this script, set.seed(7081); fitted by stats::glm with prior weights, stations as factors"
suppressWarnings(RNGversion("4.2.0"))
set.seed(7081)
wetland <- c(1, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8)
weights <- c(0.25, 0.5, 1, 1.5, 2, 3, 1.25, 0.75, 1, 2.5, 1, 0.6, 1.4, 2.2, 0.3, 1, 1.1, 1.7, 0.9)
strength <- exp(rnorm(length(wetland), -0.4, 0.7))
strength[c(10, 19)] <- 0
cells <- NULL
for (s in seq_along(wetland)) for (season in 2011:2019) {
  n <- sample(0:3, 1, prob = c(.5, .2, .2, .1))
  if (s == 7) n <- if (season == 2015) 2 else 0
  if (n == 0) next
  y <- sum(pmin(3, rpois(n, strength[s] * exp(log(1.06) * (season - 2011)))))
  cells <- rbind(cells, data.frame(cluster = wetland[s], unit = s, season = season, y = y, n = n, weight = weights[s]))
}
write_reference(cells, "cells.csv", about, 0)
write_reference(reference_fits(cells), "fit.csv", about, 1e-9)
