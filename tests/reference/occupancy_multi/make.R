# Multi-season occupancy on two invented data sets drawn here, fitted by an independent likelihood and optimiser.
#   shared: 120 sites, 6 seasons of which the fourth was not surveyed, 3 visits, one rate of each kind, three slots, one
#     visit covariate, visits and whole site-seasons missing.
#   by_interval: 250 sites, 5 seasons, 3 visits, a rate for every interval, one site covariate on the first season.
source("../common.R"); source("../occupancy.R")
about <- "simulated in this script; sum over all courses of states, maximised by optim and Newton's method on complex steps"
suppressWarnings(RNGversion("4.2.0"))
draw <- function(case, seed, n, psi, gamma, epsilon, p, effect, made, surveyed, skip) {
  set.seed(seed)
  sites <- data.frame(case = case, site = seq_len(n) - 1, w1 = round(rnorm(n), 2), weight = 1)
  z <- rbinom(n, 1, plogis(psi[1] + psi[2] * sites$w1))
  visits <- NULL
  for (t in seq_len(length(gamma) + 1) - 1) {
    if (t > 0) z <- rbinom(n, 1, ifelse(z == 1, 1 - epsilon[t], gamma[t]))
    if (t %in% skip) next
    here <- sites$site[runif(n) < surveyed]
    all <- expand.grid(visit = 0:2, site = here)
    all <- all[runif(nrow(all)) < made, ]
    all$slot <- if (length(p) > 1) all$visit else 0L
    all$x1 <- round(rnorm(nrow(all)), 1)
    all$detected <- rbinom(nrow(all), 1, plogis(p[all$slot + 1] + effect * all$x1) * z[all$site + 1])
    visits <- rbind(visits, data.frame(case = case, season = t, all))
  }
  list(sites = sites, visits = visits)
}
a <- draw("shared", 20260403, 120, c(.2, 0), rep(.15, 5), rep(.2, 5), c(-.4, .4, -.9), .5, .85, .9, 3)
b <- draw("by_interval", 20260404, 250, c(.4, .7), c(.2, .1, .3, .15), c(.1, .25, .15, .3), qlogis(.45), 0, .9, .95, integer())
columns <- c("case", "site", "season", "visit", "slot", "x1", "detected")
write_reference(rbind(a$sites, b$sites), "sites.csv", about, 0)
write_reference(rbind(a$visits, b$visits)[columns], "visits.csv", about, 0)
qa <- occupancy_problem(a$visits, a$sites, rep(0, 5), rep(0, 5), x = "x1"); fa <- maximise(qa)
qb <- occupancy_problem(b$visits, b$sites, 0:3, 0:3, w = "w1"); fb <- maximise(qb)
write_reference(rbind(fit_table("shared", qa, fa), fit_table("by_interval", qb, fb)), "fit.csv", about, 1e-7, "numDeriv")
filtered <- function(case, q, fit, sites) do.call(rbind, lapply(seq_len(q$seasons), function(t) data.frame(case = case, site = sites, season = t - 1,
  chance = (site_probability(fit$theta, q, t, 1) / site_probability(fit$theta, q, t))[sites + 1])))
write_reference(rbind(filtered("shared", qa, fa, 0:39), filtered("by_interval", qb, fb, 0:39)), "filtered.csv", about, 1e-7)
write_reference(data.frame(case = "shared", place = 1:2, do.call(rbind, lapply(2:3, function(k) setNames(as.data.frame(t(profile_interval(qa, fa, k))), c("lower", "upper"))))), "profile.csv", about, 1e-6)
