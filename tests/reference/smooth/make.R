# Penalised splines by mgcv on the engine's own basis and penalty: natural cubic splines with a knot a season, written by their
# values, penalty the integral of the squared second derivative; units as dummies. gam(..., paraPen) takes both as they are.
# The penalty matrix is made here from R's own natural splines (stats::splinefun) and exact integration, not from a formula.
# Data: ../simulated_a (gaps, a silent season), and a course with a dip, drawn here, 30 units, weights, seasons 1998-2019 with gaps.
# mgcv's control: epsilon 1e-13 for the fits at given smoothing parameters; for its own search Newton's conv.tol 1e-10.
source("../common.R")
suppressPackageStartupMessages(library(mgcv))
suppressWarnings(RNGversion("4.2.0"))

set.seed(1998)
seasons <- setdiff(1998:2019, c(2004, 2011, 2012))
counts <- NULL
for (s in 1:30) {
  strength <- exp(rnorm(1, -.2, .7)); weight <- c(1, 1, 2, .5)[1 + s %% 4]
  for (t in seasons) {
    n <- sample(0:4, 1, prob = c(.25, .1, .25, .3, .1))
    if (n > 0) counts <- rbind(counts, data.frame(cluster = (s + 1) %/% 2, unit = s, season = t, n = n, weight = weight,
      y = rpois(1, n * strength * exp(.5 * sin((t - 1998) / 3.5) - .03 * (t - 1998) + rnorm(1, 0, .25)))))
  }
}
counts <- counts[, c("cluster", "unit", "season", "y", "n", "weight")]
write_reference(counts, "counts.csv", "simulated in make.R, set.seed(1998)", 0)

energy <- function(times) {
  k <- length(times)
  second <- sapply(1:k, function(i) splinefun(times, as.numeric(1:k == i), method = "natural")(times, deriv = 2))
  h <- diff(times)
  # f'' is linear between knots: the integral of the product of two such over a gap h is h/6 (2ac + ad + bc + 2bd).
  K <- matrix(0, k, k)
  for (g in seq_along(h)) {
    a <- second[g, ]; b <- second[g + 1, ]
    K <- K + h[g] / 6 * (2 * tcrossprod(a) + tcrossprod(a, b) + tcrossprod(b, a) + 2 * tcrossprod(b))
  }
  list(K = (K + t(K)) / 2, second = second)
}

rows <- list()
put <- function(data, model, lambda, term, quantity, value)
  rows[[length(rows) + 1]] <<- data.frame(data = data, model = model, lambda = lambda, term = term, quantity = quantity, value = unname(value))

course <- function(name, cells) {
  cells <- cells[cells$n > 0 & cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
  cells$unit <- factor(cells$unit)
  times <- sort(unique(cells$season)); k <- length(times)
  spline <- energy(times); K <- spline$K
  P <- qr.Q(qr(cbind(1, diag(k)[, -1])))[, -1]      # orthonormal, orthogonal to the constant
  S <- t(P) %*% K %*% P; S <- (S + t(S)) / 2
  design <- list(y = cells$y, unit = cells$unit, w = cells$weight, o = log(cells$n), B = diag(k)[match(cells$season, times), ] %*% P)
  fit <- function(method, lambda = NULL, phi = 1, scale = 1) {
    design$w <- design$w / phi
    gam(y ~ 0 + unit + B + offset(o), family = poisson, data = design, weights = w, method = method, scale = scale,
        paraPen = list(B = list(S, rank = k - 2, sp = if (is.null(lambda)) -1 else lambda / phi)),
        control = gam.control(epsilon = 1e-13, maxit = 500, newton = list(conv.tol = 1e-10, maxNstep = 5)))
  }
  effects <- function(g) { f <- drop(P %*% coef(g)[grep("^B", names(coef(g)))]); f - mean(f) }
  write <- function(g, model, lambda, derivatives = FALSE) {
    f <- effects(g)
    for (i in 1:k) put(name, model, lambda, times[i], "effect", f[i])
    put(name, model, lambda, "", "edf", sum(g$edf[grep("^B", names(coef(g)))]))
    if (derivatives) {
      s <- splinefun(times, f, method = "natural")
      for (i in 1:k) { put(name, model, lambda, times[i], "first_derivative", s(times[i], deriv = 1)); put(name, model, lambda, times[i], "second_derivative", s(times[i], deriv = 2)) }
      fine <- seq(times[1], times[k], length.out = 1e5 + 1)
      put(name, model, lambda, "", "fall_time", fine[which.min(s(fine, deriv = 1))]); put(name, model, lambda, "", "fall", min(s(fine, deriv = 1)))
      put(name, model, lambda, "", "rise_time", fine[which.max(s(fine, deriv = 1))]); put(name, model, lambda, "", "rise", max(s(fine, deriv = 1)))
    }
  }
  for (lambda in c(.1, 1, 10, 100, 1000)) {
    g <- fit("REML", lambda)
    write(g, "given", lambda, lambda == 10)
    put(name, "given", lambda, "", "reml", -g$gcv.ubre)                 # a log-likelihood, up to a constant
    put(name, "given", lambda, "", "reml_dispersion_2", -fit("REML", lambda, 2)$gcv.ubre)
    put(name, "given", lambda, "", "gcv", fit("GCV.Cp", lambda, scale = -1)$gcv.ubre)
  }
  chosen <- fit("REML"); put(name, "reml", "", "", "lambda", chosen$sp); write(chosen, "reml", "")
  chosen <- fit("REML", phi = 2); put(name, "reml_dispersion_2", "", "", "lambda", 2 * chosen$sp); write(chosen, "reml_dispersion_2", "")
  chosen <- fit("GCV.Cp", scale = -1); put(name, "gcv", "", "", "lambda", chosen$sp); write(chosen, "gcv", "")
}
course("simulated_a", read_table("../simulated_a/cells.csv"))
course("counts", counts)
write_reference(do.call(rbind, rows), "expected.csv", "mgcv::gam with paraPen on a basis and penalty given to it", 1e-6, "mgcv")
