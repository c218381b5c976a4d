# Shared by the occupancy references: the likelihood, written as a sum over every possible course of a site's states
# (2^seasons of them) with no recursion, and a general optimiser. MacKenzie et al. 2002, 2003. Only base R and numDeriv,
# which differentiates by complex steps (no differences, so good to rounding); nothing here calls the project's own engine.

# visits: site, season, slot, detected and covariates; sites: covariates of initial occupancy and weight.
# colonisation, extinction: the group of each interval. Parameters: initial, its effects, colonisation, extinction,
# detection by slot, its effects; all on the logit scale.
occupancy_problem <- function(visits, sites, colonisation = integer(), extinction = integer(), x = character(), w = character()) {
  list(v = visits, x = as.matrix(visits[x]), w = as.matrix(sites[w]), weight = sites$weight, n = nrow(sites),
       seasons = length(colonisation) + 1, col = colonisation, ext = extinction, slots = max(visits$slot) + 1,
       paths = as.matrix(expand.grid(rep(list(0:1), length(colonisation) + 1))))
}

# R's own plogis refuses complex numbers.
logistic <- function(x) 1 / (1 + exp(-x))

sizes <- function(q) c(initial = 1, initial_effect = ncol(q$w), colonisation = length(unique(q$col)), extinction = length(unique(q$ext)),
                       detection = q$slots, detection_effect = ncol(q$x))
unpack <- function(theta, q) split(theta, factor(rep(names(sizes(q)), sizes(q)), levels = names(sizes(q))))

# The probability of what was seen up to a season and of being in state `now` then (both states without `now`), by site.
site_probability <- function(theta, q, upto = q$seasons, now = NULL) {
  a <- unpack(theta, q)
  psi <- logistic(a$initial + drop(q$w %*% a$initial_effect))
  gamma <- logistic(a$colonisation)[q$col + 1]; epsilon <- logistic(a$extinction)[q$ext + 1]
  eta <- a$detection[q$v$slot + 1] + drop(q$x %*% a$detection_effect)
  logs <- -log(1 + exp(ifelse(q$v$detected == 1, -eta, eta)))
  cell <- factor(q$v$site + q$n * q$v$season, levels = seq_len(q$n * q$seasons) - 1)
  present <- tapply(logs, cell, sum); present[is.na(present)] <- 0
  heard <- tapply(q$v$detected, cell, max); heard[is.na(heard)] <- 0
  present <- matrix(exp(present), q$n); absent <- matrix(1 - heard, q$n)
  total <- 0
  paths <- unique(q$paths[, seq_len(upto), drop = FALSE])
  for (k in seq_len(nrow(paths))) {
    z <- paths[k, ]
    if (!is.null(now) && z[upto] != now) next
    p <- if (z[1]) psi else 1 - psi
    for (t in seq_len(upto - 1)) p <- p * (if (z[t]) c(epsilon[t], 1 - epsilon[t]) else c(1 - gamma[t], gamma[t]))[z[t + 1] + 1]
    for (t in seq_len(upto)) p <- p * (if (z[t]) present[, t] else absent[, t])
    total <- total + p
  }
  total
}
log_likelihood <- function(theta, q) sum(q$weight * log(site_probability(theta, q)))

occupancy_by_season <- function(theta, q) {
  a <- unpack(theta, q)
  psi <- sum(q$weight * logistic(a$initial + drop(q$w %*% a$initial_effect))) / sum(q$weight)
  for (t in seq_along(q$col)) psi <- c(psi, sum(c(1 - psi[t], psi[t]) * c(logistic(a$colonisation)[q$col[t] + 1], 1 - logistic(a$extinction)[q$ext[t] + 1])))
  psi
}

# optim from several starts, then Newton's method until the gradient is rounding.
maximise <- function(q, starts = 2) {
  exact <- function(theta) -log_likelihood(theta, q)
  objective <- function(theta) { v <- exact(theta); if (is.finite(v)) v else 1e10 }
  gradient <- function(theta) { g <- numDeriv::grad(exact, theta, method = "complex"); ifelse(is.finite(g), g, 0) }
  best <- NULL
  for (s in seq_len(starts)) {
    fit <- optim(c(0, rep(-1, sum(sizes(q)) - 1)) * (s - 1) / 2, objective, gradient, method = "BFGS", control = list(reltol = 1e-13, maxit = 2000))
    if (is.null(best) || fit$value < best$value) best <- fit
  }
  theta <- best$par
  hessian <- numDeriv::hessian(exact, theta, method = "complex")
  for (step in 1:5) theta <- theta - solve(hessian, numDeriv::grad(exact, theta, method = "complex"))
  list(theta = theta, covariance = solve(numDeriv::hessian(exact, theta, method = "complex")), value = -exact(theta))
}

fit_table <- function(case, q, fit) {
  kinds <- rep(names(sizes(q)), sizes(q)); index <- unlist(lapply(sizes(q), seq_len)) - 1
  psi <- occupancy_by_season(fit$theta, q)
  jacobian <- numDeriv::jacobian(function(theta) occupancy_by_season(theta, q), fit$theta, method = "complex")
  se <- sqrt(diag(jacobian %*% fit$covariance %*% t(jacobian)))
  half <- qnorm(.975) * se / (psi * (1 - psi)); season <- seq_along(psi) - 1
  rows <- function(kind, index, quantity, value) data.frame(case = case, kind = kind, index = index, quantity = quantity, value = value)
  rbind(rows(kinds, index, "estimate", fit$theta), rows(kinds, index, "se", sqrt(diag(fit$covariance))),
        rows("all", 0, "log_likelihood", fit$value), rows("occupancy", season, "estimate", psi), rows("occupancy", season, "se", se),
        rows("occupancy", season, "lower", plogis(qlogis(psi) - half)), rows("occupancy", season, "upper", plogis(qlogis(psi) + half)))
}

# Likelihood-ratio interval of one parameter: the profile by optim, its crossing by uniroot. Probability scale.
profile_interval <- function(q, fit, place) {
  profile <- function(value) {
    objective <- function(rest) -log_likelihood(append(rest, value, place - 1), q)
    gradient <- function(rest) numDeriv::grad(objective, rest, method = "complex")
    optim(fit$theta[-place], objective, gradient, method = "BFGS", control = list(reltol = 1e-14))$value
  }
  gap <- function(value) -profile(value) - (fit$value - qchisq(.95, 1) / 2)
  se <- sqrt(fit$covariance[place, place])
  c(plogis(uniroot(gap, fit$theta[place] - c(5, 0) * se, tol = 1e-9)$root), plogis(uniroot(gap, fit$theta[place] + c(0, 8) * se, tol = 1e-9)$root))
}
