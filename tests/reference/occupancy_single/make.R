# Single-season occupancy on two invented data sets drawn here, fitted by an independent likelihood and optimiser.
#   constant: 60 sites, up to 4 visits, a fifth of them not made; psi .55, p .4.
#   covariates: 200 sites with weights, up to 3 visits, three slots, two visit covariates, one site covariate.
source("../common.R"); source("../occupancy.R")
about <- "simulated in this script; sum over all courses of states, maximised by optim and Newton's method on complex steps"
suppressWarnings(RNGversion("4.2.0"))
draw <- function(case, seed, n, visits, slots, made, truth) {
  set.seed(seed)
  sites <- data.frame(case = case, site = seq_len(n) - 1, w1 = round(rnorm(n), 2), weight = if (slots > 1) sample(c(.5, 1, 2), n, TRUE) else 1)
  occupied <- rbinom(n, 1, plogis(truth$psi[1] + truth$psi[2] * sites$w1))
  all <- expand.grid(visit = seq_len(visits) - 1, site = sites$site)
  all <- all[runif(nrow(all)) < made, ]
  all$slot <- if (slots > 1) all$visit else 0L
  all$x1 <- round(rnorm(nrow(all)), 2); all$x2 <- round(runif(nrow(all), -1.5, 1.5), 1)
  p <- plogis(truth$p[all$slot + 1] + truth$x[1] * all$x1 + truth$x[2] * all$x2)
  all$detected <- rbinom(nrow(all), 1, p * occupied[all$site + 1])
  list(sites = sites, visits = data.frame(case = case, season = 0, all))
}
a <- draw("constant", 20260401, 60, 4, 1, .8, list(psi = c(qlogis(.55), 0), p = qlogis(.4), x = c(0, 0)))
b <- draw("covariates", 20260402, 200, 3, 3, .85, list(psi = c(.3, .8), p = c(-.8, .2, -.3), x = c(.6, -.5)))
columns <- c("case", "site", "season", "visit", "slot", "x1", "x2", "detected")
write_reference(rbind(a$sites, b$sites), "sites.csv", about, 0)
write_reference(rbind(a$visits, b$visits)[columns], "visits.csv", about, 0)
qa <- occupancy_problem(a$visits, a$sites); fa <- maximise(qa)
qb <- occupancy_problem(b$visits, b$sites, x = c("x1", "x2"), w = "w1"); fb <- maximise(qb)
write_reference(rbind(fit_table("constant", qa, fa), fit_table("covariates", qb, fb)), "fit.csv", about, 1e-7, "numDeriv")
ends <- rbind(profile_interval(qa, fa, 1), profile_interval(qa, fa, 2), profile_interval(qb, fb, 4))
write_reference(data.frame(case = c("constant", "constant", "covariates"), place = c(0, 1, 3), lower = ends[, 1], upper = ends[, 2]), "profile.csv", about, 1e-6)
