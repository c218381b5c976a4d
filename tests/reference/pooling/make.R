# Random-effects pooling written out in base R with dense matrices; no meta-analysis package is used or called.
# Data 1: thirteen trials of BCG vaccine against tuberculosis, Colditz et al. 1994 (JAMA 271:698), the table as in
# HSAUR3::BCG: cases and people with the vaccine and without. Estimate: log risk ratio, and log odds ratio.
# Published for the log risk ratio under REML (read in retrieved texts, see SEEN in the rows below): tau^2 .3132 (SE .1664),
# mean -.7145 (SE .1798), interval -1.0669 to -.3622, Q 152.2330, I^2 92.22 %, H^2 12.86; Hartung-Knapp SE .1808, interval
# -1.1084 to -.3206, prediction limits of the ratio .14 to 1.76.
# Data 2: eight invented estimates whose errors share bad seasons (a full covariance), for the same by generalised least
# squares.
source("../common.R")
suppressWarnings(RNGversion("4.2.0"))

bcg <- data.frame(trial = 1:13,
  vaccinated_cases = c(4, 6, 3, 62, 33, 180, 8, 505, 29, 17, 186, 5, 27),
  vaccinated = c(123, 306, 231, 13598, 5069, 1541, 2545, 88391, 7499, 1716, 50634, 2498, 16913),
  control_cases = c(11, 29, 11, 248, 47, 372, 10, 499, 45, 65, 141, 3, 29),
  control = c(139, 303, 220, 12867, 5808, 1451, 629, 88391, 7277, 1665, 27338, 2341, 17854))
write_reference(bcg, "bcg.csv", "Colditz et al. 1994, JAMA 271:698, as in HSAUR3::BCG", 0)

set.seed(41)
k <- 8
seasons <- matrix(rnorm(k * 5, sd = .02), k) + rep(1, k) %o% rnorm(5, sd = .03)
V <- diag(runif(k, .01, .06)^2) + tcrossprod(seasons) / 5
y <- -.03 + rnorm(k, sd = .05) + drop(t(chol(V)) %*% rnorm(k))
shared <- data.frame(unit = 1:k, estimate = y, V)
names(shared)[-(1:2)] <- paste0("v", 1:k)
write_reference(shared, "shared.csv", "simulated in make.R, set.seed(41)", 0)

rows <- list()
put <- function(data, method, unit, quantity, value, source = "COMP")
  rows[[length(rows) + 1]] <<- data.frame(data = data, method = method, unit = unit, quantity = quantity, value = unname(value), source = source)

# Everything at one tau^2 by dense matrices.
gls <- function(y, V, t2) {
  P <- solve(V + t2 * diag(length(y)))
  one <- rep(1, length(y))
  info <- sum(P)
  mu <- sum(P %*% y) / info
  r <- y - mu
  list(P = P, info = info, mu = mu, Q = drop(r %*% P %*% r), r = r,
       RML = .5 * as.numeric(determinant(P)$modulus) - .5 * log(info) - .5 * drop(r %*% P %*% r),
       ML = .5 * as.numeric(determinant(P)$modulus) - .5 * drop(r %*% P %*% r),
       weights = drop(P %*% one) / info)
}
# The projection of REML: score and expected information of tau^2 in textbook trace form.
trace <- function(M) sum(diag(M))
likelihood_tau2 <- function(y, V, restricted) {
  parts <- function(t2) {
    g <- gls(y, V, t2)
    P <- if (restricted) g$P - tcrossprod(rowSums(g$P)) / g$info else g$P
    list(score = -.5 * trace(P) + .5 * drop(crossprod(g$P %*% g$r)), information = .5 * trace(P %*% P))
  }
  scale <- var(y)
  root <- if (parts(0)$score <= 0) 0 else uniroot(function(t) parts(t)$score, c(0, 10 * scale), tol = 1e-17, maxiter = 10000)$root
  c(root, 1 / sqrt(parts(root)$information))
}

pool <- function(name, y, V, averaged = TRUE) {
  k <- length(y)
  fixed <- gls(y, V, 0)
  put(name, "fixed", "", "mean", fixed$mu); put(name, "fixed", "", "standard_error", 1 / sqrt(fixed$info))
  put(name, "fixed", "", "Q", fixed$Q); put(name, "fixed", "", "degrees_of_freedom", k - 1)
  W <- fixed$P
  C <- trace(W) - drop(sum(W %*% W)) / sum(W)
  typical <- (k - 1) / C
  put(name, "fixed", "", "typical_variance", typical)
  centre <- diag(k) - 1 / k
  estimates <- list(DerSimonianLaird = c(max(0, (fixed$Q - (k - 1)) / C), NA),
    Hedges = c(max(0, var(y) - trace(centre %*% V) / (k - 1)), NA),
    PauleMandel = c(if (fixed$Q < k - 1) 0 else uniroot(function(t) gls(y, V, t)$Q - (k - 1), c(0, 100 * var(y)), tol = 1e-17, maxiter = 10000)$root, NA),
    RestrictedMaximumLikelihood = likelihood_tau2(y, V, TRUE),
    MaximumLikelihood = likelihood_tau2(y, V, FALSE))
  for (method in names(estimates)) {
    t2 <- estimates[[method]][1]
    g <- gls(y, V, t2)
    se <- 1 / sqrt(g$info); hk <- se * sqrt(g$Q / (k - 1)); t1 <- qt(.975, k - 1); t2q <- qt(.975, k - 2); z <- qnorm(.975)
    values <- c(tau2 = t2, tau2_standard_error = estimates[[method]][2], mean = g$mu, standard_error = se,
      lower = g$mu - z * se, upper = g$mu + z * se, i_squared = t2 / (t2 + typical), h_squared = (t2 + typical) / typical,
      hartung_knapp_standard_error = hk, hartung_knapp_lower = g$mu - t1 * hk, hartung_knapp_upper = g$mu + t1 * hk,
      prediction_lower_HartungKnappStudent = g$mu - t1 * sqrt(t2 + hk^2), prediction_upper_HartungKnappStudent = g$mu + t1 * sqrt(t2 + hk^2),
      prediction_lower_StudentTwoFewer = g$mu - t2q * sqrt(t2 + se^2), prediction_upper_StudentTwoFewer = g$mu + t2q * sqrt(t2 + se^2),
      prediction_lower_Normal = g$mu - z * sqrt(t2 + se^2), prediction_upper_Normal = g$mu + z * sqrt(t2 + se^2))
    for (q in names(values)) if (!is.na(values[q])) put(name, method, "", q, values[q])
    for (i in seq_len(k)) put(name, method, i, "weight", g$weights[i])
  }
  profile <- function(p) { target <- qchisq(p, k - 1); if (fixed$Q < target) 0 else uniroot(function(t) gls(y, V, t)$Q - target, c(0, 1e5 * var(y)), tol = 1e-17, maxiter = 10000)$root }
  put(name, "profile", "", "tau2_lower", profile(.975)); put(name, "profile", "", "tau2_upper", profile(.025))

  # Best linear unbiased predictors at REML's tau^2, from Henderson's mixed model equations (not the formula the engine uses).
  t2 <- estimates$RestrictedMaximumLikelihood[1]
  iV <- solve(V); X <- cbind(1, diag(k))
  M <- t(X) %*% iV %*% X + diag(c(0, rep(1 / t2, k)))
  S <- solve(M); b <- S %*% t(X) %*% iV %*% y
  L <- X
  for (i in seq_len(k)) { put(name, "predictor", i, "value", drop(L[i, ] %*% b)); put(name, "predictor", i, "standard_error", sqrt(drop(L[i, ] %*% S %*% L[i, ])))
    put(name, "predictor", i, "own_share", drop(L[i, ] %*% S %*% t(X) %*% iV)[i]) }

  if (!averaged) return(invisible())
  # tau^2 averaged over, flat in tau^2: adaptive quadrature over tau/(1 + tau/s) of restricted likelihood times the normal.
  s <- sqrt(mean(diag(V)))
  at <- function(u) { tau <- s * u / (1 - u); list(t2 = tau^2, jacobian = 2 * tau * s / (1 - u)^2) }
  top <- gls(y, V, t2)$RML
  weight <- function(u) { a <- at(u); exp(gls(y, V, a$t2)$RML - top) * a$jacobian }
  area <- function(f, lower = 0) { cuts <- c(lower, .2, .4, .6, .7, .8, .9, .95, .99, 1 - 1e-6); sum(sapply(seq_along(cuts)[-1], function(j)
    integrate(Vectorize(f), cuts[j - 1], cuts[j], rel.tol = 1e-11, subdivisions = 2000)$value)) }
  total <- area(weight)
  moments <- function(u) { a <- at(u); g <- gls(y, V, a$t2); B <- a$t2 * g$P; m <- g$mu + drop(B %*% g$r)
    pull <- 1 - rowSums(B); list(m = m, v = diag(a$t2 * diag(k) - a$t2 * B) + pull^2 / g$info) }
  for (i in seq_len(k)) {
    m1 <- area(function(u) weight(u) * moments(u)$m[i]) / total
    m2 <- area(function(u) { m <- moments(u); weight(u) * (m$v[i] + m$m[i]^2) }) / total
    put(name, "shrunken", i, "value", m1); put(name, "shrunken", i, "standard_error", sqrt(m2 - m1^2))
    cdf <- function(x) area(function(u) { m <- moments(u); weight(u) * pnorm(x, m$m[i], sqrt(m$v[i])) }) / total
    width <- sqrt(m2 - m1^2)
    for (end in c("lower", "upper")) {
      p <- if (end == "lower") .025 else .975
      put(name, "shrunken", i, end, uniroot(function(x) cdf(x) - p, m1 + c(-8, 8) * width, tol = 1e-9 * width)$root)
    }
  }
}

a <- bcg$vaccinated_cases; b <- bcg$vaccinated - a; cc <- bcg$control_cases; d <- bcg$control - cc
pool("log_risk_ratio", log(a / bcg$vaccinated) - log(cc / bcg$control), diag(1 / a - 1 / bcg$vaccinated + 1 / cc - 1 / bcg$control))
pool("log_odds_ratio", log(a * d / (b * cc)), diag(1 / a + 1 / b + 1 / cc + 1 / d), averaged = FALSE)
pool("shared", y, V)

published <- function(quantity, value, digits) put("log_risk_ratio", "RestrictedMaximumLikelihood", "", quantity, value, paste("SEEN to", digits, "digits"))
published("tau2", .3132, 4); published("tau2_standard_error", .1664, 4); published("mean", -.7145, 4); published("standard_error", .1798, 4)
published("lower", -1.0669, 4); published("upper", -.3622, 4); published("i_squared", .9222, 4); published("h_squared", 12.86, 2)
put("log_risk_ratio", "fixed", "", "Q", 152.2330, "SEEN to 4 digits")
published("hartung_knapp_standard_error", .1808, 4); published("hartung_knapp_lower", -1.1084, 4); published("hartung_knapp_upper", -.3206, 4)
published("exp_prediction_lower", .14, 2); published("exp_prediction_upper", 1.76, 2)
write_reference(do.call(rbind, rows), "expected.csv",
  "matrix algebra in base R; SEEN rows published for the BCG trials and read in retrieved texts", 1e-8)
