# An invented programme, drawn here: 27 stations in 11 wetlands, seasons 2008-2020 without 2014, nought to three visits a
# season, gaps, three stations that never hear the species, one season (2012) in which nobody does. y is the sum of call
# levels 0-3 over the visits. The truth behind it: -4 % per season, with good and bad years.
source("../common.R")
about <- "simulated in this script, set.seed(20120517); fitted by stats::glm, stations as factors"
suppressWarnings(RNGversion("4.2.0"))
set.seed(20120517)
wetland <- c(rep(1:5, each = 3), rep(6:9, each = 2), 10, 10, 11, 11)
seasons <- setdiff(2008:2020, 2014)
strength <- exp(rnorm(max(wetland), -0.1, 0.5)[wetland] + rnorm(length(wetland), 0, 0.4))
strength[c(3, 14, 23)] <- 0
year <- rnorm(length(seasons), 0, 0.2)
cells <- NULL
for (s in seq_along(wetland)) for (j in seq_along(seasons)) {
  n <- sample(0:3, 1, prob = c(.2, .1, .2, .5))
  if (n == 0) next
  mean_level <- strength[s] * exp(log(.96) * (seasons[j] - 2008) + year[j])
  y <- sum(pmin(3, rpois(n, if (seasons[j] == 2012) 0 else mean_level)))
  cells <- rbind(cells, data.frame(cluster = wetland[s], unit = s, season = seasons[j], y = y, n = n, weight = 1))
}
write_reference(cells, "cells.csv", about, 0)
write_reference(reference_fits(cells), "fit.csv", about, 1e-9)
