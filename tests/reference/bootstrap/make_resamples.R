# R's boot with a committed resampling matrix: 199 draws of the 11 wetlands of simulated_a with replacement. For each draw
# the trend and the annual model are refitted by stats::glm with every station's weight multiplied by how often its wetland
# was drawn. The engine refits the same draws from multiplicities.csv and must give the same numbers.
#   multiplicities.csv  how often each wetland was drawn, one row a resample, columns w1..w11
#   draws.csv           slope and index of the last season in each resample
#   intervals.csv       the intervals of slope and of that index
# With R = 199 the 2.5 and 97.5 % points are the 5th and 195th draws: boot.ci's percentile interval and quantile type 6 are
# then the same. BCa levels fall between draws; boot interpolates there on the normal scale, we linearly (type 6), so boot's
# own ends stand beside ours for comparison only.
source("../common.R")
library(boot)
about <- "boot package on simulated_a, set.seed(199); refits by stats::glm"
suppressWarnings(RNGversion("4.2.0"))
set.seed(199)
cells <- read_table("../simulated_a/cells.csv")
heard <- cells[cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
seasons <- sort(unique(heard$season))
wetlands <- sort(unique(cells$cluster))
K <- length(wetlands)
stopifnot(identical(wetlands, sort(unique(heard$cluster))))

refit <- function(multiplicity) {
  part <- heard
  part$weight <- part$weight * multiplicity[match(part$cluster, wetlands)]
  part <- part[part$weight > 0, ]
  part$unit <- factor(part$unit)
  part$t <- part$season - mean(seasons)
  slope <- unname(coef(polished_glm(y ~ 0 + unit + t + offset(log(n)), part))["t"])
  silent <- names(which(tapply(part$y, part$season, sum) == 0))
  finite <- part[!(part$season %in% silent), ]
  finite$column <- factor(finite$season)
  annual <- polished_glm(y ~ 0 + unit + column + offset(log(n)), finite)
  limits <- setNames(numeric(length(seasons)), seasons)
  limits[levels(finite$column)] <- exp(c(0, coef(annual)[paste0("column", levels(finite$column)[-1])]))
  c(slope = slope, index = 100 * unname(limits[length(seasons)]) / mean(limits[1:3]))
}

draws <- boot(wetlands, function(data, f) refit(f), R = 199, stype = "f")
multiplicities <- boot.array(draws)
stopifnot(all(rowSums(multiplicities) == K), all(is.finite(draws$t)), all(draws$t[, 2] > 0))
write_reference(setNames(data.frame(seq_len(199), multiplicities), c("resample", paste0("w", wetlands))), "multiplicities.csv", about, 0, "boot")
write_reference(data.frame(resample = seq_len(199), slope = draws$t[, 1], index = draws$t[, 2]), "draws.csv", about, 1e-9, "boot")

rows <- NULL
put <- function(term, quantity, value, level = NA) rows <<- rbind(rows, data.frame(term, quantity, level, value))
ends <- c(.025, .975)
stretch <- sqrt(K / (K - 1)) * qt(.975, K - 1) / qnorm(.975)
put("", "clusters", K)
put("", "stretch", stretch)

without <- t(sapply(seq_len(K), function(i) refit(as.numeric(seq_len(K) != i))))
for (column in 1:2) {
  term <- c("slope", "index")[column]
  theta <- draws$t0[column]
  t <- draws$t[, column]
  l <- mean(without[, column]) - without[, column]
  a <- sum(l^3) / (6 * sum(l^2)^1.5)
  z0 <- qnorm(mean(t < theta))
  z <- z0 + qnorm(ends)
  levels <- pnorm(z0 + z / (1 - a * z))
  put(term, "estimate", theta)
  put(term, "standard_error_jackknife", sqrt((K - 1) / K * sum(l^2)))
  put(term, "acceleration_jackknife", a)
  put(term, "z0", z0)
  put(term, "percentile", quantile(t, ends, type = 6, names = FALSE), ends)
  put(term, "bca_level", levels, ends)
  put(term, "bca", quantile(t, levels, type = 6, names = FALSE), ends)
  put(term, "jackknife_t", theta + c(-1, 1) * qt(.975, K - 1) * sqrt((K - 1) / K * sum(l^2)), ends)
  stretched <- if (column == 1) theta + stretch * (t - theta) else exp(log(theta) + stretch * (log(t) - log(theta)))
  put(term, "stretched", quantile(stretched, ends, type = 6, names = FALSE), ends)
  if (column == 1) put(term, "share_of_stretched_draws_below_zero", mean(stretched < 0))
  ci <- boot.ci(draws, conf = .95, type = c("perc", "bca"), index = column, L = l)
  put(term, "boot_percentile", ci$percent[4:5], ends)
  put(term, "boot_bca", ci$bca[4:5], ends)
  stopifnot(isTRUE(all.equal(ci$percent[4:5], quantile(t, ends, type = 6, names = FALSE), tolerance = 1e-14)))
}
for (i in seq_len(K)) for (column in 1:2) put(c("slope", "index")[column], paste0("without_w", wetlands[i]), without[i, column])
write_reference(rows, "intervals.csv", about, 1e-9, "boot")
