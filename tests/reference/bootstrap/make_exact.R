# Exact bootstrap distributions: every multiset of the sample with its probability, so no random numbers anywhere.
# Data:
#   law        15 law schools, LSAT and GPA: Efron & Tibshirani (1993), An Introduction to the Bootstrap, table 3.1; correlation
#   mouse      7 treated mice, survival in days: the same book, table 2.1; mean
#   city       10 cities, population (thousand) 1920 and 1930: Davison & Hinkley (1997), table 2.1, boot::city; ratio of means
#   aircondit  12 times between failures, hours: the same book, example 1.1, boot::aircondit; mean
# Conventions: acceleration by the jackknife sum((m - t_i)^3) / (6 sum((m - t_i)^2)^1.5), t_i the leave-one-out values, m their
# mean; infinitesimal the same with the empirical influence values (the two differ in SIGN on the city ratio). z0 from
# P(t* < t), strictly. Levels: z0 + (z0 + z) / (1 - a (z0 + z)). Quantiles by the inverse distribution function.
# Published beside them (Monte Carlo, so close and not equal; read in secondary texts): law 90 % percentile .524-.928, BCa
# .410-.923 (Efron & Tibshirani p. 266); city, boot's own example output, 95 %: percentile 1.242-2.109, BCa 1.243-2.110;
# aircondit 95 %: percentile 43.9-192.1, BCa 55.33-243.5 (Davison & Hinkley ex. 5.4, 5.8).
source("../common.R")
about <- "exact enumeration; Efron & Tibshirani 1993 tables 2.1 and 3.1, Davison & Hinkley 1997 via boot::city and boot::aircondit"
law <- data.frame(x = c(576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594),
                  y = c(3.39, 3.30, 2.81, 3.03, 3.44, 3.07, 3.00, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96))
mouse <- data.frame(x = c(94, 197, 16, 38, 99, 141, 23), y = NA)
city <- data.frame(x = boot::city$u, y = boot::city$x)
aircondit <- data.frame(x = boot::aircondit$hours, y = NA)
data <- rbind(cbind(check = "law", law), cbind(check = "mouse", mouse), cbind(check = "city", city), cbind(check = "aircondit", aircondit))
write_reference(data, "data.csv", about, 0, "boot")

rows <- NULL
put <- function(check, quantity, value, level = NA) rows <<- rbind(rows, data.frame(check, quantity, level, value))
cubes <- function(l) sum(l^3) / (6 * sum(l^2)^1.5)
levels <- c(.025, .05, .95, .975)

estimate <- function(check, n, statistic, influence) {
  theta <- statistic(seq_len(n))
  without <- sapply(seq_len(n), function(i) statistic(seq_len(n)[-i]))
  put(check, "estimate", theta)
  put(check, "acceleration_jackknife", cubes(mean(without) - without))
  put(check, "acceleration_infinitesimal", cubes(influence))
  put(check, "standard_error_jackknife", sqrt((n - 1) / n * sum((without - mean(without))^2)))
  list(theta = theta, jackknife = cubes(mean(without) - without), infinitesimal = cubes(influence))
}
bca_level <- function(z0, a, level) { z <- z0 + qnorm(level); pnorm(z0 + z / (1 - a * z)) }

# draws with their probabilities -> intervals
intervals <- function(check, e, draws, p) {
  order <- order(draws)
  draws <- draws[order]
  cumulative <- cumsum(p[order])
  inverse <- function(level) draws[which(cumulative >= level - 1e-12)[1]]
  below <- sum(p[order][draws < e$theta - 1e-9 * abs(e$theta)])
  put(check, "probability_below", below)
  put(check, "z0", qnorm(below))
  put(check, "standard_error", sqrt(sum(p[order] * draws^2) - sum(p[order] * draws)^2))
  for (level in levels) {
    put(check, "percentile", inverse(level), level)
    put(check, "bca_level", bca_level(qnorm(below), e$jackknife, level), level)
    put(check, "bca", inverse(bca_level(qnorm(below), e$jackknife, level)), level)
  }
}

multisets <- function(n) {
  grow <- function(k, left) if (k == 1) matrix(left, 1, 1) else do.call(rbind, lapply(0:left, function(m) cbind(m, grow(k - 1, left - m))))
  m <- grow(n, n)
  list(m = m, p = exp(lfactorial(n) - rowSums(lfactorial(m)) - n * log(n)))
}

seven <- multisets(7)
e <- estimate("mouse", 7, function(i) mean(mouse$x[i]), mouse$x - mean(mouse$x))
intervals("mouse", e, as.vector(seven$m %*% mouse$x) / 7, seven$p)

ten <- multisets(10)
e <- estimate("city", 10, function(i) mean(city$y[i]) / mean(city$x[i]), (city$y - mean(city$y) / mean(city$x) * city$x) / mean(city$x))
intervals("city", e, as.vector((ten$m %*% city$y) / (ten$m %*% city$x)), ten$p)

# Whole hours: the distribution of the sum by convolution.
h <- aircondit$x
single <- tabulate(h + 1, max(h) + 1) / length(h)
total <- 1
for (k in seq_along(h)) {
  longer <- numeric(length(total) + length(single) - 1)
  for (v in unique(h)) longer[v + seq_along(total)] <- longer[v + seq_along(total)] + single[v + 1] * total
  total <- longer
}
e <- estimate("aircondit", 12, function(i) mean(h[i]), h - mean(h))
keep <- total > 0
intervals("aircondit", e, ((seq_along(total) - 1) / 12)[keep], total[keep])

write_reference(rows, "exact.csv", about, 1e-9, "boot")
