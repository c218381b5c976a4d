# Single-season occupancy on real amphibians: stream salamanders, West Virginia: Price, Muncy, Bonner, Drayer & Barton
# (2016), J. Appl. Ecol. 53:459-468, as in glmmTMB::Salamanders. The package is AGPL-3, so no history is copied: what is
# committed is a tally of ours, how many mined and unmined sites had 0 to 4 visits (of 4) with a given category found. That
# tally is all that the model with constant p, and mined or not on psi, depends on. Visits within one study, not years, and
# salamanders seen, not heard: a check of arithmetic. Unmined and mined are fitted as two groups with one p.
# Independent: the tally's likelihood here has binomials and no histories; optim on the probabilities themselves, in a box, so that a maximum
# at 0 or 1 shows as one; where it is inside, Newton's method on numDeriv finishes it.
source("../common.R")
about <- "tally from glmmTMB::Salamanders (AGPL-3; no raw data copied); Price et al. 2016"
data(Salamanders, package = "glmmTMB")
found <- aggregate(cbind(visits = count > 0) ~ site + mined + spp, Salamanders, sum)
tally <- as.data.frame(table(category = found$spp, mined = found$mined, visits = found$visits), responseName = "sites")
tally <- tally[order(tally$category, tally$mined, tally$visits), ]
tally <- data.frame(category = as.character(tally$category), mined = as.integer(tally$mined == "yes"), visits = as.integer(as.character(tally$visits)), sites = as.integer(tally$sites))
write_reference(tally, "tally.csv", about, 0, "glmmTMB")

loss <- function(psi, p, t) {
  chance <- psi * p^t$visits * (1 - p)^(4 - t$visits) + (1 - psi) * (t$visits == 0)
  -sum(ifelse(t$sites == 0, 0, t$sites * log(chance)))
}
box <- function(f, starts) {
  fits <- lapply(starts, function(s) optim(s, f, method = "L-BFGS-B", lower = 0, upper = 1, control = list(factr = 1, maxit = 5000)))
  fits[[which.min(vapply(fits, function(x) x$value, 0))]]
}
safe <- function(f) function(x) { v <- f(x); if (is.finite(v)) v else 1e8 }
rows <- NULL
put <- function(category, model, quantity, value) rows <<- rbind(rows, data.frame(category, model, quantity, value))
for (category in unique(tally$category)) for (model in c("constant", "mined")) {
  t <- tally[tally$category == category, ]
  k <- if (model == "constant") 2 else 3
  f <- function(x) loss(if (k == 2) x[1] else x[1:2][t$mined + 1], x[k], t)
  fit <- box(safe(f), list(rep(.5, k), rep(.3, k), rep(.8, k), c(rep(.9, k - 1), .2)))
  x <- fit$par
  inside <- x > 1e-5 & x < 1 - 1e-5
  x[!inside] <- round(x[!inside])
  g <- function(eta) { y <- x; y[inside] <- plogis(eta); f(y) }
  eta <- qlogis(x[inside])
  for (step in 1:6) eta <- eta - solve(numDeriv::hessian(g, eta), numDeriv::grad(g, eta))
  x[inside] <- plogis(eta)
  names(x) <- if (k == 2) c("psi", "p") else c("psi_unmined", "psi_mined", "p")
  covariance <- matrix(0, k, k); covariance[inside, inside] <- solve(numDeriv::hessian(g, eta))
  for (q in names(x)) put(category, model, q, x[q])
  put(category, model, "log_likelihood", -f(x))
  for (q in names(x)[inside]) put(category, model, paste0("logit_se_", q), sqrt(covariance[names(x) == q, names(x) == q]))
}
write_reference(rows, "fit.csv", about, 1e-7, c("glmmTMB", "numDeriv"))
