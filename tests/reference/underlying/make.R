# The underlying-direction interval, written out in R from its definition, on two series: the counts of simulated_a, and
# the same counts with every third cell (station + season number divisible by 3) silenced. Slopes and expected counts come
# from stats::glm, the resamples from bootstrap/multiplicities.csv; A, which the definition gives as a matrix, is also checked
# here against what a small shock does to the residuals of a refit.
#   quantities.csv  slope, h_t, r_t, the norm of A, the shocks' covariance and standard deviation; shocks: what they add to the
#                   slope's variance
#   influence.csv   what a little more of one wetland does to each residual, by refits with its weight 1 +- 1e-4
#   draws.csv       underlying draws of both series and of their mean, for normals that are quantiles of a fixed sequence:
#                   z[j, b] = qnorm(((37 b + 5 j) mod 199 + 0.5) / 199), j, b from 1; the sum of season
#                   shocks, sum_t h_tk H_tk, is normal with covariance C+ times h_k' R h_l, R_tu = rho^|t - u|, and drawn as such;
#                   rho by uniroot where neighbours are as alike as seen, over both series, and .15 beyond, .1 to .8
# The definition: seasons' shocks after Cameron, Gelbach & Miller 2011 and Donald & Lang 2007, degrees of freedom after
# Satterthwaite 1946, how much rho is raised and C+ scaled ours (docs/coverage.md). No published worked example was found.
source("../common.R")
about <- "R from the definition, fits by stats::glm, on simulated_a and bootstrap/multiplicities.csv"
cells <- read_table("../simulated_a/cells.csv")
multiplicities <- as.matrix(read_table("../bootstrap/multiplicities.csv")[, -1])
wetlands <- sort(unique(cells$cluster))
B <- nrow(multiplicities)
seasons <- sort(unique(cells$season))

second <- transform(cells, y = ifelse((match(unit, unique(unit)) + match(season, seasons)) %% 3 == 0, 0, y))
prepare <- function(cells) cells[cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)) & cells$n > 0, ]
series <- lapply(list(cells, second), prepare)

# Slope, expected counts by season and residuals of one weighted sample.
trend <- function(part) {
  part <- part[part$weight > 0, ]
  part$unit <- factor(part$unit)
  part$t <- part$season - mean(range(seasons))
  fit <- polished_glm(y ~ 0 + unit + t + offset(log(n)), part)
  mu <- tapply(part$weight * fitted(fit), factor(part$season, seasons), sum)
  y <- tapply(part$weight * part$y, factor(part$season, seasons), sum)
  list(slope = unname(coef(fit)["t"]), residual = ifelse(is.na(mu), 0, y / mu - 1), part = part, fitted = fitted(fit))
}

one <- lapply(series, function(data) {
  whole <- trend(data)
  units <- levels(whole$part$unit)
  p <- mu <- d <- matrix(0, length(units), length(seasons))
  at <- cbind(as.integer(whole$part$unit), match(whole$part$season, seasons))
  total <- tapply(whole$part$y, whole$part$unit, sum)
  weight <- tapply(whole$part$weight, whole$part$unit, max)
  p[at] <- whole$fitted / total[at[, 1]]
  mu[] <- p * as.vector(total * weight)
  d[] <- outer(rep(1, length(units)), seasons) - as.vector(p %*% seasons)
  h <- colSums(mu * d) / sum(mu * d^2)
  A <- diag(length(seasons))
  for (t in seq_along(seasons)) for (u in seq_along(seasons))
    A[t, u] <- (t == u) - sum(mu[, t] / sum(mu[, t]) * (p[, u] + d[, t] * h[u]))
  # What a small shock in one season does to the residuals, from fits whose counts lie on the trend.
  flat <- whole$part
  flat$y <- whole$fitted
  for (u in c(1, 5)) {
    shocked <- flat
    shocked$y <- shocked$y * ifelse(shocked$season == seasons[u], 1 + 1e-5, 1)
    stopifnot(max(abs(suppressWarnings(trend(shocked))$residual / 1e-5 - A[, u])) < 1e-3)
  }
  draws <- lapply(seq_len(B), function(b) {
    part <- data
    part$weight <- part$weight * multiplicities[b, match(part$cluster, wetlands)]
    part <- part[part$weight > 0, ]
    trend(part[part$unit %in% names(which(tapply(part$y, part$unit, sum) > 0)), ])
  })
  informative <- tapply(whole$part$season, whole$part$unit, length) >= 2
  nudged <- function(wetland, by) {
    part <- data
    part$weight <- part$weight * ifelse(part$cluster == wetland, 1 + by, 1)
    trend(part)$residual
  }
  influence <- sapply(wetlands, function(w) (nudged(w, 1e-4) - nudged(w, -1e-4)) / 2e-4)
  list(influence = influence, A = A, slope = whole$slope, residual = as.vector(whole$residual), h = h, norm = sqrt(sum(A^2)),
       K = length(unique(whole$part$cluster[whole$part$unit %in% names(which(informative))])),
       slopes = vapply(draws, `[[`, 0, "slope"), residuals = t(vapply(draws, function(x) as.vector(x$residual), numeric(length(seasons)))))
})

# How alike neighbouring seasons' shocks are.
R_of <- function(rho) rho^abs(outer(seasons, seasons, "-"))
neighbours <- which(diff(seasons) == 1)
lagged <- function(M) sum(M[cbind(neighbours, neighbours + 1)])
seen <- lapply(one, function(x) {
  left <- tcrossprod(x$residual) - x$K / (x$K - 1) * cov(x$residuals)
  list(squares = sum(diag(left)) / sum(x$residual^2), neighbours = lagged(left) / sum(x$residual^2))
})
stopifnot(sum(vapply(seen, `[[`, 0, "squares")) > 0)
apart <- function(rho) sum(mapply(function(x, s) {
  expected <- x$A %*% R_of(rho) %*% t(x$A)
  s$neighbours - s$squares * lagged(expected) / sum(diag(expected))
}, one, seen))
alike <- if (apart(-.05) <= 0) -.05 else if (apart(.65) >= 0) .65 else uniroot(apart, c(-.05, .65), tol = 1e-12)$root
rho <- alike + .15
carried <- vapply(one, function(x) sqrt(sum(diag(x$A %*% R_of(rho) %*% t(x$A)))), 0)

C <- matrix(0, 2, 2)
for (k in 1:2) for (l in 1:2) {
  K <- min(one[[k]]$K, one[[l]]$K)
  between <- sum(vapply(seq_along(seasons), function(t) cov(one[[k]]$residuals[, t], one[[l]]$residuals[, t]), 0))
  C[k, l] <- (sum(one[[k]]$residual * one[[l]]$residual) - K / (K - 1) * between) / (carried[k] * carried[l])
}
remade <- function(symmetric, of) {
  spectrum <- eigen(symmetric, symmetric = TRUE)
  spectrum$vectors %*% diag(of(pmax(spectrum$values, 0))) %*% t(spectrum$vectors)
}
positive <- remade(C, identity)
positive <- positive * sum(pmax(diag(C), 0)) / sum(diag(positive))
H <- cbind(one[[1]]$h, one[[2]]$h)
R <- R_of(rho)
root <- remade(positive * (t(H) %*% R %*% H), sqrt)

# The same law as season shocks drawn one by one.
set.seed(1)
L <- remade(positive, sqrt)
slow <- t(replicate(20000, colSums(H * (t(chol(R)) %*% matrix(rnorm(2 * nrow(H)), ncol = 2) %*% L))))
stopifnot(max(abs(cov(slow) / tcrossprod(root) - 1)) < .05)

z <- function(j, b) qnorm(((37 * b + 5 * j) %% 199 + 0.5) / 199)
a <- sapply(1:2, function(k) sqrt(one[[k]]$K / (one[[k]]$K - 1)) * (one[[k]]$slopes - one[[k]]$slope))
s <- sapply(1:2, function(k) vapply(seq_len(B), function(b) sum(z(1:2, b) * root[k, ]), 0))
# Satterthwaite 1946, and at least what wetlands alone would have on K - 1
student <- function(v1, v2, K, T) max(qt(.975, (v1 + v2)^2 / (v1^2 / (K - 1) + v2^2 / (T - 2))), qt(.975, K - 1) * sqrt(v1 / (v1 + v2))) / qnorm(.975)
stretched <- function(slope, a, s, K, T) slope + student(var(a), var(s), K, T) * (a + s)
T <- length(seasons)
draws <- data.frame(resample = seq_len(B),
  first = stretched(one[[1]]$slope, a[, 1], s[, 1], one[[1]]$K, T),
  second = stretched(one[[2]]$slope, a[, 2], s[, 2], one[[2]]$K, T),
  mean = stretched(mean(c(one[[1]]$slope, one[[2]]$slope)), rowMeans(a), rowMeans(s), min(one[[1]]$K, one[[2]]$K), T))
write_reference(draws, "draws.csv", about, 1e-8)

rows <- NULL
put <- function(series, quantity, at, value) rows <<- rbind(rows, data.frame(series, quantity, at = as.integer(at), value))
for (k in 1:2) {
  put(k, "slope", NA, one[[k]]$slope)
  put(k, "clusters", NA, one[[k]]$K)
  put(k, "response_norm", NA, one[[k]]$norm)
  put(k, "carried_norm", NA, carried[k])
  put(k, "carry_over", NA, rho)
  put(k, "leverage", seasons, one[[k]]$h)
  put(k, "residual", seasons, one[[k]]$residual)
  put(k, "covariance", 1:2, C[k, ])
  put(k, "season_sd", NA, sqrt(max(0, C[k, k])))
  put(k, "shocks", NA, var(s[, k]))
}
write_reference(do.call(rbind, lapply(1:2, function(k)
  data.frame(series = k, wetland = rep(wetlands, each = T), season = rep(seasons, length(wetlands)), psi = as.vector(one[[k]]$influence)))),
  "influence.csv", about, 1e-5)
write_reference(rows, "quantities.csv", about, 1e-8)
