# How far slopes of planned programmes spread, by drawing 20,000 programmes of each plan here, from the description in docs/methods.md and
# not from the engine. A wetland has one station with its own level and slope, a season of it its own luck, and all share
# good and bad springs:
#   log mean of a survey = ln m + level - v/2 + cell - v/2 + spring + (ln slope + its own) (t - middle), all normal on the log scale
# (each v the variance before it; a spring has mean 0 on the log scale); a survey at mean m hears something with chance min(1, m / m1), m1 the mean level when heard,
# and then a level of 1, 2 or 3 by the given shares. Every station is surveyed alike in every season, so the conditional fit is
# the Poisson regression of the seasons' totals on the season: stats::glm for the first programmes, its score equation for all.
#   plans.csv     the plans
#   expected.csv  mean and standard deviation of the slopes over the draws, with their Monte Carlo standard errors
source("../common.R")
suppressWarnings(RNGversion("4.2.0"))
set.seed(20261127)

plans <- data.frame(plan = 1:4, wetlands = c(20, 60, 30, 40), seasons = c(12, 8, 20, 12), visits = c(3, 2, 1, 2), percent = c(-3, -3, -2, -4),
  mean = c(.6, .6, .6, 1.6), level_sd = .5, slope_sd = c(.03, .03, 0, .03), cell_sd = c(.3, .3, .5, .3), season_sd = c(.1, .1, .25, 0),
  share1 = .5, share2 = .3, share3 = .2)
worlds <- 20000

slopes_of <- function(totals, t) {            # one row a programme; Newton's method on Poisson regression with an intercept profiled out
  b <- rep(0, nrow(totals)); sums <- rowSums(totals)
  for (step in 1:60) {
    w <- exp(b %o% t); p <- w / rowSums(w)
    m <- drop(p %*% t); v <- drop(p %*% t^2) - m^2
    move <- (drop(totals %*% t) / sums - m) / v
    b <- b + move
    if (max(abs(move)) < 1e-13) break
  }
  b
}
rows <- list()
for (i in seq_len(nrow(plans))) {
  p <- plans[i, ]
  t <- seq_len(p$seasons) - (p$seasons + 1) / 2
  shares <- c(p$share1, p$share2, p$share3); m1 <- sum(1:3 * shares)
  totals <- matrix(0, worlds, p$seasons)
  for (w in seq_len(p$wetlands)) {
    level <- rnorm(worlds, log(p$mean) - p$level_sd^2 / 2, p$level_sd)
    own <- log1p(p$percent / 100) + rnorm(worlds, 0, p$slope_sd)
    if (w == 1) spring <- matrix(rnorm(worlds * p$seasons, 0, p$season_sd), worlds)
    mean <- exp(level + own %o% t + spring + matrix(rnorm(worlds * p$seasons, -p$cell_sd^2 / 2, p$cell_sd), worlds))
    for (visit in seq_len(p$visits))
      totals <- totals + (runif(length(mean)) < mean / m1) * sample(1:3, length(mean), TRUE, shares)
  }
  slopes <- slopes_of(totals, t)
  check <- sapply(1:3, function(j) coef(glm(totals[j, ] ~ t, poisson, control = control))[2])
  stopifnot(max(abs(check - slopes[1:3])) < 1e-7)
  s <- sd(slopes); fourth <- mean((slopes - mean(slopes))^4)
  rows[[i]] <- data.frame(plan = i, quantity = c("mean", "sd"), value = c(mean(slopes), s),
    error = c(s / sqrt(worlds), sqrt((fourth - s^4) / worlds) / (2 * s)))
}
write_reference(plans, "plans.csv", "invented", 0)
write_reference(do.call(rbind, rows), "expected.csv", "20,000 programmes a plan, set.seed(20261127)", 1e-9)
