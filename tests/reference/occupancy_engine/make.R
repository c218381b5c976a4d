# From surveys with dates to occupancy, the whole way by other means: an invented programme of 14 wetlands, four of them with
# two stations, 6 seasons, a calling window of 1 April to 31 July. Species "a" is fitted: the window's thirds are found from
# days, visits of all stations of a wetland are put together, the likelihood is a sum over every course of states
# (occupancy.R) maximised by optim and Newton's method. Visits to absence are ln(0.05) / ln(1 - p), and in rounds of early,
# middle, late counted one by one. Species "b" is heard in the first three seasons only: for given rates, the chance that a
# wetland has held it without a break is a ratio of sums over courses of states that never return after the third season.
source("../common.R"); source("../occupancy.R")
about <- "simulated in this script; sum over all courses of states, maximised by optim and Newton's method on complex steps"
suppressWarnings(RNGversion("4.2.0"))
set.seed(20260408)
stations <- data.frame(station = sprintf("s%02d", 1:18), wetland = sprintf("w%02d", c(1:14, 2, 5, 8, 11)))
first <- as.Date("2011-04-01"); seasons <- 6; year0 <- 2011
z <- matrix(0, 14, seasons); z[, 1] <- rbinom(14, 1, .7)
for (t in 2:seasons) z[, t] <- rbinom(14, 1, ifelse(z[, t - 1] == 1, .8, .25))
days <- c(12, 33, 58, 75, 95, 118)   # days into the window: two in every third
visits <- expand.grid(visit = seq_along(days), t = seq_len(seasons), i = seq_len(nrow(stations)))
visits <- visits[runif(nrow(visits)) < .6, ]
visits$date <- as.Date(sprintf("%d-04-01", year0 + visits$t - 1)) + days[visits$visit] + sample(-3:3, nrow(visits), TRUE)
visits$station <- stations$station[visits$i]; visits$wetland <- stations$wetland[visits$i]
site <- match(visits$wetland, sort(unique(stations$wetland)))
third <- floor(3 * as.integer(visits$date - as.Date(sprintf("%d-04-01", year0 + visits$t - 1))) / 122)
stopifnot(all(third %in% 0:2))
visits$a <- rbinom(nrow(visits), 1, c(.25, .6, .4)[third + 1] * z[cbind(site, visits$t)])
visits$b <- as.integer(visits$t <= 3 & site %in% c(1, 2, 4, 7, 9) & runif(nrow(visits)) < .5)
out <- visits[order(visits$station, visits$date), c("station", "wetland", "date", "a", "b")]
out$date <- format(out$date)
out <- out[!duplicated(out[c("station", "date")]), ]
write_reference(out, "visits.csv", about, 0)

# Only what the table holds is fitted.
out$t <- as.integer(substr(out$date, 1, 4)) - year0
out$third <- floor(3 * as.integer(as.Date(out$date) - as.Date(paste0(substr(out$date, 1, 4), "-04-01"))) / 122)
wetlands <- sort(unique(out$wetland))
table_of <- function(species) data.frame(site = match(out$wetland, wetlands) - 1, season = out$t, slot = out$third, detected = out[[species]])
sites <- data.frame(weight = rep(1, length(wetlands)))
q <- occupancy_problem(table_of("a"), sites, rep(0, seasons - 1), rep(0, seasons - 1))
fit <- maximise(q, 4)
expected <- fit_table("a", q, fit)
p <- plogis(tail(fit$theta, 3)); se <- sqrt(diag(fit$covariance)); half <- qnorm(.975) * se
rates <- function(kind, index, place) data.frame(case = "a", kind = kind, index = index,
  quantity = c("p", "p_se", "p_lower", "p_upper"), value = c(plogis(fit$theta[place]), plogis(fit$theta[place]) * plogis(-fit$theta[place]) * se[place],
  plogis(fit$theta[place] - half[place]), plogis(fit$theta[place] + half[place])))
expected <- rbind(expected, rates("colonisation", 0, 2), rates("extinction", 0, 3), rates("detection", 0, 4), rates("detection", 1, 5), rates("detection", 2, 6))
needed <- function(p) ceiling(log(.05) / log(1 - p))
expected <- rbind(expected,
  data.frame(case = "a", kind = "detection", index = 0:2, quantity = "visits", value = needed(p)),
  data.frame(case = "a", kind = "detection", index = 0:2, quantity = "visits_cautious", value = needed(plogis(tail(fit$theta, 3) - tail(half, 3)))),
  data.frame(case = "a", kind = "round", index = 0, quantity = "visits", value = which(cumsum(log(1 - rep(p, 50))) <= log(.05))[1]))
write_reference(expected, "expected.csv", about, 1e-7, "numDeriv")

# Species b at given rates: courses with no return after season 3 (index 2), those that last until season 5 (index 4), all
# given every visit through season 6.
theta <- qlogis(c(.5, .15, .3, .2, .45, .3))
qb <- occupancy_problem(table_of("b"), sites, rep(0, seasons - 1), rep(0, seasons - 1))
course <- function(theta, q, keep) {
  psi <- plogis(theta[1]); gamma <- plogis(theta[2]); epsilon <- plogis(theta[3]); pv <- plogis(theta[4:6])[q$v$slot + 1]
  total <- 0
  for (k in seq_len(nrow(q$paths))) {
    path <- q$paths[k, ]
    if (!keep(path)) next
    prior <- if (path[1]) psi else 1 - psi
    for (t in 2:q$seasons) prior <- prior * (if (path[t - 1]) c(epsilon, 1 - epsilon) else if (t <= 3) c(1 - gamma, gamma) else c(1, 0))[path[t] + 1]
    present <- path[q$v$season + 1]
    each <- ifelse(present == 1, ifelse(q$v$detected == 1, pv, 1 - pv), 1 - q$v$detected)
    product <- rep(1, q$n); by <- tapply(each, q$v$site, prod); product[as.integer(names(by)) + 1] <- by
    total <- total + prior * product
  }
  total
}
chance <- course(theta, qb, function(path) path[3] == 1 && path[4] == 1 && path[5] == 1) / course(theta, qb, function(path) TRUE)
write_reference(data.frame(wetland = wetlands, chance = chance), "unbroken.csv", about, 1e-9)
