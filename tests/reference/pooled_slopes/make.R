# Slopes of areas pooled in the presence of springs that the areas share, written out in base R with dense matrices from
# the definition in docs/methods.md. Nothing of the engine is called. Nine invented areas over up to twelve seasons, some of
# which each area missed; two areas cannot tell their own variance.
#   parts.csv     what each area brings: slope, information, own variance, clusters, residual variance
#   seasons.csv   leverage and residual of each area's seasons
#   response.csv  sums of products of answers to shocks, by the years between the shocks
#   evidence.csv  what each area tells of how springs carry over, at fifteen correlations, and how much of shocks it shows
#   expected.csv  correlation, shared and own variance of the shocks; for REML, DerSimonian-Laird and Paule-Mandel tau^2, mean, standard
#                 error, interval, degrees of freedom; the prediction interval; shrunken slopes by numerical integration
# The means are generalised least squares; Hartung & Knapp 2001, no shorter than with the areas' own variances taken as known; degrees of freedom after
# Satterthwaite 1946. tau^2 is averaged over in proportion to its restricted likelihood for the shrunken slopes, over the
# distribution of Q (Viechtbauer 2007) for the prediction. No published worked example was found.
source("../common.R")
suppressWarnings(RNGversion("4.2.0"))
set.seed(20261126)

k <- 9
all_seasons <- 1:12
shock <- as.vector(stats::filter(rnorm(12, sd = .25), .8, "recursive"))
clusters <- c(8, 6, 12, 3, 20, 10, 5, 2, 7)
known <- clusters >= 5
areas <- lapply(1:k, function(i) {
  seasons <- sort(sample(all_seasons, if (i %% 3 == 0) 9 else if (i %% 3 == 1) 12 else 11))
  mu <- runif(length(seasons), 4, 9) * clusters[i]
  centred <- seasons - sum(mu * seasons) / sum(mu)
  information <- sum(mu * centred^2)
  h <- mu * centred / information
  r <- shock[seasons] - mean(shock[seasons]) - sum(h * shock[seasons]) * centred + rnorm(length(seasons), sd = sqrt(1.4 / mu))
  A <- diag(length(seasons)) - outer(rep(1, length(seasons)), mu / sum(mu)) - outer(centred, h)
  list(seasons = seasons, h = h, r = r, A = A, information = information,
       own = 1.4 / information * rchisq(1, clusters[i]) / clusters[i], residual = sum(1.4 / mu) * .8,
       slope = -.02 + rnorm(1, sd = .025) + sum(h * shock[seasons]) + rnorm(1, sd = sqrt(1.4 / information)))
})
parts <- data.frame(area = 1:k, slope = sapply(areas, `[[`, "slope"), information = sapply(areas, `[[`, "information"),
  own_variance = ifelse(known, sapply(areas, `[[`, "own"), 0), clusters = clusters,
  residual_variance = ifelse(known, sapply(areas, `[[`, "residual"), 0))
years_apart <- function(a) abs(outer(a$seasons, a$seasons, "-"))
response <- do.call(rbind, lapply(1:k, function(i) {
  sums <- tapply(crossprod(areas[[i]]$A), years_apart(areas[[i]]), sum)
  data.frame(area = i, lag = as.integer(names(sums)), value = as.vector(sums))
}))
carried <- function(a, rho) a$A %*% rho^years_apart(a) %*% t(a$A)
neighbours <- function(a, M) sum(M[years_apart(a) == 1 & upper.tri(M)])
points <- seq(-.05, .65, length.out = 15)
evidence <- do.call(rbind, lapply(1:k, function(i) {
  a <- areas[[i]]
  whole <- sum(a$r^2)
  left <- function(rho) neighbours(a, tcrossprod(a$r)) / whole -
    (whole - a$residual) / whole * neighbours(a, carried(a, rho)) / sum(diag(carried(a, rho)))
  data.frame(area = i, point = 1:16, value = if (known[i]) c(sapply(points, left), (whole - a$residual) / whole) else 0)
}))
seasons <- do.call(rbind, lapply(1:k, function(i) data.frame(area = i, season = areas[[i]]$seasons, leverage = areas[[i]]$h, residual = areas[[i]]$r)))
write_reference(parts, "parts.csv", "simulated in make.R, set.seed(20261126); 0 where an area cannot tell", 0)
write_reference(seasons, "seasons.csv", "simulated in make.R, set.seed(20261126)", 0)
write_reference(response, "response.csv", "simulated in make.R, set.seed(20261126)", 0)
write_reference(evidence, "evidence.csv", "simulated in make.R, set.seed(20261126); 0 where an area cannot tell", 0)

rows <- list()
put <- function(method, area, quantity, value)
  rows[[length(rows) + 1]] <<- data.frame(method = method, area = area, quantity = quantity, value = unname(value))

sums <- tapply(evidence$value, evidence$point, sum)
stopifnot(sums[16] > 0)
total <- approxfun(points, sums[1:15])
rho <- .15 + if (total(-.05) <= 0) -.05 else if (total(.65) >= 0) .65 else uniroot(total, c(-.05, .65), tol = 1e-14)$root
put("", "", "carry_over", rho)
norm <- sapply(areas, function(a) sqrt(sum(diag(carried(a, rho)))))

# Matrices over all seasons, zeros where an area has none.
R <- H <- matrix(0, k, 12)
for (i in 1:k) { R[i, areas[[i]]$seasons] <- areas[[i]]$r; H[i, areas[[i]]$seasons] <- areas[[i]]$h }
count <- sapply(areas, function(a) length(a$seasons))
common <- outer(1:k, 1:k, Vectorize(function(i, j) length(intersect(areas[[i]]$seasons, areas[[j]]$seasons))))
scale <- outer(norm, norm) * common / sqrt(outer(count, count))
noise <- ifelse(known, parts$residual_variance / count, NA)
noise[!known] <- mean((noise * parts$information)[known]) / parts$information[!known]
moments <- function(w) {
  pairs <- upper.tri(matrix(0, k, k))
  W <- outer(w, w)
  shared <- max(0, sum((W * tcrossprod(R))[pairs]) / sum((W * scale)[pairs]))
  both <- sum((w * (rowSums(R^2) - parts$residual_variance))[known]) / sum((w * norm^2)[known])
  c(shared = shared, own = max(0, both - shared))
}
first <- moments(1 / noise)
shocks <- moments(1 / (noise + first["own"]))
put("", "", "shared", shocks["shared"])
put("", "", "own", shocks["own"])

df <- (clusters - 1)[known]
dispersion <- sum(df * (parts$own_variance * parts$information)[known]) / sum(df)
v <- ifelse(known, parts$own_variance, dispersion / parts$information)
freedom <- ifelse(known, clusters - 1, sum(df))
over_years <- rho^abs(outer(1:12, 1:12, "-"))
S <- shocks["shared"] * H %*% over_years %*% t(H)
V <- diag(v + shocks["own"] * diag(H %*% over_years %*% t(H))) + S
y <- parts$slope
one <- rep(1, k)
at <- function(t2) {
  P <- solve(V + t2 * diag(k))
  info <- sum(P)
  mu <- sum(P %*% y) / info
  list(P = P, info = info, mu = mu, Q = drop((y - mu) %*% P %*% (y - mu)),
       likelihood = .5 * as.numeric(determinant(P)$modulus) - .5 * log(info) - .5 * drop((y - mu) %*% P %*% (y - mu)))
}
fixed <- at(0)
# E Q at the fixed-effect weights: k - 1 + tau^2 (tr P - 1'PP1 / 1'P1).
dl <- max(0, (fixed$Q - (k - 1)) / (sum(diag(fixed$P)) - sum(fixed$P %*% fixed$P) / fixed$info))
pm <- if (fixed$Q <= k - 1) 0 else uniroot(function(t2) at(t2)$Q - (k - 1), c(0, 1), tol = 1e-16)$root
score <- function(t2) { a <- at(t2); PP <- a$P %*% a$P; r <- y - a$mu; .5 * (drop(r %*% PP %*% r) - sum(diag(a$P)) + sum(PP) / a$info) }
# A zero derivative on this scale and no other near it.
grid <- c(0, 10^seq(-8, 0, length.out = 400))
best <- grid[which.max(sapply(grid, function(t2) at(t2)$likelihood))]
reml <- if (best == 0) 0 else uniroot(score, best * 10^c(-.1, .1), tol = 1e-18)$root

satterthwaite <- function(a, da, b, db) (a + b)^2 / (a^2 / da + b^2 / db)
shared_in <- function(t2) { w <- drop(at(t2)$P %*% one) / at(t2)$info; drop(w %*% S %*% w) }
T <- length(unique(seasons$season))
tau2s <- c(restricted_maximum_likelihood = reml, der_simonian_laird = dl, paule_mandel = pm)
for (method in names(tau2s)) {
  t2 <- tau2s[[method]]
  a <- at(t2)
  se2 <- 1 / a$info
  shared <- shared_in(t2)
  apart <- max(0, se2 - shared)
  between <- apart * a$Q / (k - 1)
  nu <- satterthwaite(between, k - 1, shared, T - 2)
  half <- max(qt(.975, nu) * sqrt(between + shared), qt(.975, satterthwaite(apart, Inf, shared, T - 2)) * sqrt(apart + shared))
  put(method, "", "tau2", t2)
  put(method, "", "mean", a$mu)
  put(method, "", "standard_error", sqrt(se2))
  put(method, "", "freedom", nu)
  put(method, "", "lower", a$mu - half)
  put(method, "", "upper", a$mu + half)
}

# One more area: tau^2 at the middle quantiles of what Q leaves of it.
spread <- sapply((1:40 - .5) / 40, function(p) {
  q <- qchisq(p, k - 1)
  if (fixed$Q <= q) 0 else uniroot(function(t2) at(t2)$Q - q, c(0, 100), tol = 1e-16)$root
})
middles <- sapply(spread, function(t2) at(t2)$mu)
deviations <- sapply(spread, function(t2) sqrt(t2 + 1 / at(t2)$info))
centre <- mean(middles)
variance <- mean(deviations^2 + (middles - centre)^2)
quantile_of <- function(p) uniroot(function(x) mean(pnorm(x, middles, deviations)) - p, centre + c(-12, 12) * sqrt(variance), tol = 1e-13)$root
shared <- min(variance, shared_in(reml))
stretch <- qt(.975, satterthwaite(variance - shared, Inf, shared, T - 2)) / qnorm(.975)
put("prediction", "", "lower", centre + stretch * (quantile_of(.025) - centre))
put("prediction", "", "upper", centre + stretch * (quantile_of(.975) - centre))

# Each area's own slope, tau^2 averaged over on a fine grid: mean, deviation, and the interval's quantiles of the mixture.
taus <- seq(1e-6, 2, length.out = 60001)
taus <- taus^2 * 2                                    # denser near 0; the weights allow for the spacing in tau^2
step <- c(diff(taus^2), 0) / 2 + c(0, diff(taus^2)) / 2
near <- vapply(taus, function(t) at(t^2)$likelihood, 0)
weight <- exp(near - max(near)) * step
keep <- weight > max(weight) * 1e-13
weight <- weight[keep] / sum(weight[keep])
predictor <- lapply(taus[keep], function(t) {
  a <- at(t^2)
  B <- t^2 * a$P                                      # how much of y is kept
  value <- a$mu + drop(B %*% (y - a$mu))
  pull <- drop(one - B %*% one)
  list(value = value, variance = diag(V - V %*% a$P %*% V) + pull^2 / a$info)
})
value <- sapply(predictor, `[[`, "value")
variance <- sapply(predictor, `[[`, "variance")
for (i in 1:k) {
  mean <- sum(weight * value[i, ])
  deviation <- sqrt(sum(weight * (variance[i, ] + (value[i, ] - mean)^2)))
  quantile_of <- function(p) uniroot(function(x) sum(weight * pnorm(x, value[i, ], sqrt(variance[i, ]))) - p,
                                     mean + c(-12, 12) * deviation, tol = 1e-13)$root
  b <- min(deviation^2, S[i, i])
  nu <- satterthwaite(deviation^2 - b, freedom[i], b, T - 2)
  stretch <- qt(.975, nu) / qnorm(.975)
  put("shrunken", i, "value", mean)
  put("shrunken", i, "standard_error", deviation)
  put("shrunken", i, "lower", mean + stretch * (quantile_of(.025) - mean))
  put("shrunken", i, "upper", mean + stretch * (quantile_of(.975) - mean))
}
write_reference(do.call(rbind, rows), "expected.csv", "matrix algebra in base R from the definition; Hartung & Knapp 2001, Satterthwaite 1946, Viechtbauer 2007", 1e-5)
