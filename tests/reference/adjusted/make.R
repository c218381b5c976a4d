# Visit-level Poisson regressions with unit dummies by stats::glm (epsilon 1e-14, restarted until they stand still).
# grouseticks: ticks on red grouse chicks, Elston et al. 2001 (Parasitology 122:563-569), as in lme4::grouseticks (lme4, GPL-2
# or later; the columns used are committed). A visit is a chick. Units are either the locations, within which HEIGHT never
# varies, so that its effect cannot be told (a real case of aliasing), or bands of 50 m of height, within which it does.
# simulated: an invented programme drawn here, with missing covariates, a covariate that is constant within units, and one
# that is a sum of others and of unit constants.
# Covariates are put to mean 0 and standard deviation 1 (n below the line) over all visits with a value; a missing one is 0.
source("../common.R")
suppressWarnings(RNGversion("4.2.0"))

data(grouseticks, package = "lme4")
ticks <- with(grouseticks, data.frame(chick = as.integer(as.character(INDEX)), location = as.integer(as.character(LOCATION)),
  brood = as.integer(as.character(BROOD)), year = 1900L + as.integer(as.character(YEAR)), height = as.integer(HEIGHT), ticks = as.integer(TICKS)))
ticks <- ticks[order(ticks$chick), ]
write_reference(ticks, "grouseticks.csv", "lme4::grouseticks (GPL); Elston et al. 2001", 0, "lme4")
ticks$size <- ave(ticks$ticks, ticks$brood, FUN = length)

set.seed(20140601)
seasons <- c(2005:2009, 2011:2016)
visits <- NULL
for (s in 1:40) {
  strength <- exp(rnorm(1, -.4, .7)); height <- runif(1, 0, 300); weight <- c(1, 2, .7)[1 + s %% 3]; from <- sample(1:3, 1)
  for (t in seasons[from:length(seasons)]) for (v in seq_len(sample(0:4, 1))) {
    day <- sample(75:200, 1); temperature <- round(-2 + .13 * day + rnorm(1, 0, 4), 1); wind <- sample(0:4, 1, prob = c(3, 4, 3, 2, 1))
    newcomer <- as.integer(runif(1) < .15)
    eta <- log(strength) - .05 * (t - 2010) - .0006 * (day - 130)^2 + .04 * (temperature - 15) - .15 * wind - .3 * newcomer
    visits <- rbind(visits, data.frame(cluster = (s + 2) %/% 3, unit = s, season = t, weight = weight,
      y = if (s == 17) 0L else rpois(1, exp(eta)), day = day, day2 = (day - 130)^2, temperature = temperature, wind = wind,
      newcomer = newcomer, height = height))
  }
}
visits$temperature[sample(nrow(visits), 60)] <- NA
visits$wind[sample(nrow(visits), 25)] <- NA
# A sum of the temperature as it will be used, missing ones at the mean, and something constant within units.
visits$mixture <- 3 * ifelse(is.na(visits$temperature), mean(visits$temperature, na.rm = TRUE), visits$temperature) + visits$height / 10
multiplicity <- sample(c(0, 0, 1, 1, 1, 2, 3), max(visits$cluster), replace = TRUE)
write_reference(visits, "visits.csv", "simulated in make.R, set.seed(20140601)", 0)
write_reference(data.frame(cluster = seq_along(multiplicity), multiplicity = multiplicity), "multiplicities.csv", "drawn in make.R", 0)

rows <- list()
put <- function(case, model, term, quantity, value)
  rows[[length(rows) + 1]] <<- data.frame(case = case, model = model, term = term, quantity = quantity, value = unname(value))

standard <- function(x) { m <- mean(x, na.rm = TRUE); z <- (x - m) / sqrt(mean((x - m)^2, na.rm = TRUE)); ifelse(is.na(z), 0, z) }

fits <- function(case, d, covariates) {
  for (name in covariates) d[[paste0("z_", name)]] <- standard(d[[name]])   # over all visits, those of silent units too
  d <- d[d$weight > 0 & d$unit %in% names(which(tapply(d$y, d$unit, sum) > 0)), ]
  d$unit <- factor(d$unit)
  d$t <- d$season - mean(range(d$season)); d$column <- factor(d$season)
  for (model in c("trend", "annual")) {
    time <- if (model == "trend") "t" else "column"
    base <- paste("y ~ 0 + unit +", time)
    kept <- character()
    rank <- function(terms) qr(model.matrix(as.formula(paste(c(base, terms), collapse = " + ")), d))$rank
    for (name in covariates) {
      grows <- rank(paste0("z_", c(kept, name))) > rank(if (length(kept)) paste0("z_", kept))
      put(case, model, name, "estimable", as.integer(grows))
      if (grows) kept <- c(kept, name)
    }
    fit <- polished_glm(as.formula(paste(c(base, paste0("z_", kept)), collapse = " + ")), d)
    b <- coef(fit); V <- vcov(fit)
    put(case, model, "", "conditional_log_likelihood", {
      mu <- fitted(fit)
      sum(d$weight * d$y * log(mu / ave(mu, d$unit, FUN = sum)))
    })
    for (name in kept) { put(case, model, name, "estimate", b[paste0("z_", name)]); put(case, model, name, "se", sqrt(V[paste0("z_", name), paste0("z_", name)])) }
    if (model == "trend") { put(case, model, "slope", "estimate", b["t"]); put(case, model, "slope", "se", sqrt(V["t", "t"]))
      put(case, model, kept[1], "covariance_with_slope", V["t", paste0("z_", kept[1])]) }
    else for (s in levels(d$column)[-1]) { put(case, model, s, "log_ratio_to_first", b[paste0("column", s)]); put(case, model, s, "se", sqrt(V[paste0("column", s), paste0("column", s)])) }
  }
}

by_location <- with(ticks, data.frame(unit = location, season = year, y = ticks, weight = 1, height, size))
fits("location", by_location, c("height", "size"))
by_band <- with(ticks, data.frame(unit = height %/% 50, season = year, y = ticks, weight = 1, height, height2 = (height - 450)^2, size))
fits("band", by_band, c("height", "height2", "size"))
covariates <- c("day", "day2", "temperature", "wind", "newcomer", "height", "mixture")
fits("simulated", visits, covariates)
# The same with clusters drawn some times each; covariates stay on the scale of the whole sample.
resampled <- visits
for (name in covariates) resampled[[name]] <- standard(resampled[[name]])
resampled$weight <- resampled$weight * multiplicity[resampled$cluster]
local({ standard <<- identity; fits("resampled", resampled, covariates) })
write_reference(do.call(rbind, rows), "expected.csv", "stats::glm with units as factors", 1e-9, "lme4")
