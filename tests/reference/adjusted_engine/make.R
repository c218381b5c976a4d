# A programme's visits as they are written down (stations, evenings, clock times, weather, observers, call levels), and what the adjusted
# trend makes of them: covariates worked out here, then stats::glm with station dummies (epsilon 1e-14, restarted until it stands still).
# Sunset: the equations of the NOAA solar calculator (gml.noaa.gov/grad/solcalc, after Meeus, Astronomical Algorithms), repeated until they
# stand still; the sun's centre 50 minutes of arc below the horizon. Written here once more from those equations, in days and degrees.
# Covariates are standardised over all visits of the programme; a missing one is the mean. In it on purpose: missing values of every
# kind, noise that is no number, observers without a name and with names in other letters, starts after midnight, a
# winter species whose window runs over New Year, visits outside the window, a station weight, a station that never hears.
source("../common.R")
suppressWarnings(RNGversion("4.2.0"))
set.seed(20261125)

stations <- do.call(rbind, lapply(1:2, function(a) data.frame(
  station = sprintf("S%d%02d", a, 1:14), wetland = sprintf("W%d%02d", a, c(1:10, 2, 5, 7, 7)), watershed = sprintf("9901000%d", a),
  latitude = round(44 + 2 * a + runif(14), 4), longitude = round(-90 - a - runif(14), 4), weight = ifelse(1:14 %in% c(3, 9), 2, 1))))
strength <- rnorm(nrow(stations), .8, .5)
visits <- NULL
for (s in seq_len(nrow(stations))) for (year in 2012:2021) {
  if (runif(1) < .15) next
  days <- c(sample(20:85, 2), sample(86:190, 4), sample(325:365, 2))
  for (d in days[runif(8) < .75]) {
    date <- as.Date(sprintf("%d-01-01", year)) + d - 1
    temperature <- round(-3 + .11 * min(d, 200) + rnorm(1, 0, 4), 1); wind <- sample(0:4, 1)
    start <- sample(c("20:40", "21:15", "22:05", "23:30", "00:20"), 1)
    eta <- strength[s] - .04 * (year - 2016) - .0004 * (d - 120)^2 * (d < 300) + .03 * temperature - .12 * wind
    visits <- rbind(visits, data.frame(station = stations$station[s], date = format(date), start = start, air_temp = temperature, wind = wind,
      noise = sample(c("0", "1", "2", "1.5", "loud"), 1, prob = c(4, 3, 2, 1, 1)), observer = sample(c("Ada", "ADA ", "Ben", "Cleo", "Dov", "Eve", "Finn"), 1,
      prob = c(2, 1, 2, 2, pmax(.01, year - 2014), pmax(.01, year - 2016), pmax(.01, year - 2018))),
      spring = min(3, rpois(1, exp(eta))), winter = min(3, rpois(1, exp(.9 - .0009 * ((d + 120) %% 365 - 90)^2 + .02 * temperature + .05 * (year - 2016))))))
  }
}
visits <- visits[order(visits$station, visits$date), ]
visits$survey <- sprintf("V%04d", seq_len(nrow(visits)))
visits <- visits[!duplicated(visits[c("station", "date")]), ]
visits$spring[visits$station == "S105"] <- 0
for (column in c("start", "air_temp", "wind", "noise", "observer")) visits[[column]][runif(nrow(visits)) < .06] <- NA
visits <- merge(visits, stations, by = "station", sort = FALSE)
write_reference(visits[c("survey", "station", "wetland", "watershed", "latitude", "longitude", "weight", "date", "start", "air_temp", "wind", "noise", "observer",
  "spring", "winter")], "visits.csv", "simulated in make.R, set.seed(20261125)", 0)

sunset_utc <- function(date, latitude, longitude) {            # days since 1970-01-01, UTC
  radians <- pi / 180
  t0 <- as.numeric(as.Date(date)) + (18 - longitude / 15) / 24   # six in the evening by the sun
  t <- t0
  for (round in 1:30) {
    jc <- (t + 2440587.5 - 2451545) / 36525
    l0 <- (280.46646 + jc * (36000.76983 + jc * .0003032)) %% 360
    m <- 357.52911 + jc * (35999.05029 - .0001537 * jc)
    e <- .016708634 - jc * (.000042037 + .0000001267 * jc)
    centre <- sin(radians * m) * (1.914602 - jc * (.004817 + .000014 * jc)) + sin(2 * radians * m) * (.019993 - .000101 * jc) + sin(3 * radians * m) * .000289
    omega <- 125.04 - 1934.136 * jc
    lambda <- l0 + centre - .00569 - .00478 * sin(radians * omega)
    epsilon <- 23 + (26 + (21.448 - jc * (46.815 + jc * (.00059 - jc * .001813))) / 60) / 60 + .00256 * cos(radians * omega)
    declination <- asin(sin(radians * epsilon) * sin(radians * lambda))
    y <- tan(radians * epsilon / 2)^2
    equation <- 4 / radians * (y * sin(2 * radians * l0) - 2 * e * sin(radians * m) + 4 * e * y * sin(radians * m) * cos(2 * radians * l0) -
      .5 * y^2 * sin(4 * radians * l0) - 1.25 * e^2 * sin(2 * radians * m))
    angle <- acos(sin(-50 / 60 * radians) / (cos(radians * latitude) * cos(declination)) - tan(radians * latitude) * tan(declination)) / radians
    moved <- as.numeric(as.Date(date)) + (720 - 4 * longitude - equation + 4 * angle) / 1440
    if (abs(moved - t) < 1e-13) break
    t <- moved
  }
  moved
}
year <- as.integer(substr(visits$date, 1, 4))
day <- as.integer(format(as.Date(visits$date), "%j"))
evening <- as.Date(visits$date) + ifelse(!is.na(visits$start) & visits$start < "12:00", 1, 0)
clock <- as.numeric(as.POSIXct(paste(evening, ifelse(is.na(visits$start), "21:00", visits$start)), tz = "America/Chicago")) / 86400
minutes <- ifelse(is.na(visits$start), NA, 1440 * (clock - mapply(sunset_utc, visits$date, visits$latitude, visits$longitude)))
name <- toupper(trimws(visits$observer))
first <- ifelse(is.na(name), NA, as.numeric(year == ave(year, name, FUN = min)))
around <- function(x) (x - mean(x, na.rm = TRUE))^2

rows <- list()
put <- function(area, species, covariate, quantity, value)
  rows[[length(rows) + 1]] <<- data.frame(area = area, species = species, covariate = covariate, quantity = quantity, value = unname(value))
for (species in c("spring", "winter")) {
  inside <- if (species == "spring") day >= 79 & format(as.Date(visits$date), "%m-%d") >= "03-20" & format(as.Date(visits$date), "%m-%d") <= "07-15" else
    format(as.Date(visits$date), "%m-%d") >= "11-20" | format(as.Date(visits$date), "%m-%d") <= "03-31"
  # A visit outside the window keeps its own year; it counts for the covariates' means and nothing else.
  early <- species == "winter" & inside & day < 200
  season <- year - early
  days <- day + ifelse(early, ifelse(season %% 4 == 0, 366, 365), 0)
  x <- data.frame(day = days, day_squared = around(days), air_temp = visits$air_temp, air_temp_squared = around(visits$air_temp), wind = visits$wind,
    minutes_after_sunset = minutes, noise = suppressWarnings(as.numeric(visits$noise)), first_season = first)
  means <- sapply(x, mean, na.rm = TRUE); sds <- sapply(x, function(v) sqrt(mean((v - mean(v, na.rm = TRUE))^2, na.rm = TRUE)))
  z <- as.data.frame(Map(function(v, m, s) { v <- (v - m) / s; v[is.na(v)] <- 0; v }, x, means, sds))
  names(z) <- paste0("z_", names(x))
  for (area in c("9901", "99010001", "99010002")) {
    d <- cbind(visits[c("station", "watershed", "weight")], y = visits[[species]], t = season, z)[inside & startsWith(visits$watershed, area), ]
    known <- !is.na(x[inside & startsWith(visits$watershed, area), ])
    heard <- d$station %in% names(which(tapply(d$y, d$station, sum) > 0))
    d <- d[heard, ]; known <- known[heard, ]
    d$station <- factor(d$station); d$t <- d$t - 2016
    fit <- polished_glm(as.formula(paste(c("y ~ 0 + station + t", names(z)), collapse = " + ")), d)
    b <- coef(fit)
    put(area, species, "", "percent_per_season", 100 * expm1(b["t"]))
    put(area, species, "", "surveys", nrow(d))
    for (name in names(x)) {
      put(area, species, name, "effect", b[paste0("z_", name)])
      put(area, species, name, "percent_per_unit", 100 * expm1(b[paste0("z_", name)] / sds[name]))
      put(area, species, name, "mean", means[name]); put(area, species, name, "sd", sds[name])
      put(area, species, name, "missing", sum(!known[, name]))
    }
  }
}
write_reference(do.call(rbind, rows), "expected.csv", "stats::glm on covariates worked out in make.R; sunset by the NOAA solar calculator's equations", 1e-7)
