# The two models with the station effects profiled out, in base R, all resamples at once as matrix work. Used to bootstrap
# in check.R and timed by tests/Indicators.Benchmarks/R/profiled.R. Written from the definitions (methods, sections 2 and 3),
# not from the engine; check.R compares its full-sample answers with stats::glm before it trusts its resamples.
#
#   Y, N   stations x seasons: calls and effort (N = 0: no cell)
#   W      resamples x stations: station weight times how often its wetland was drawn
#   t      the seasons

# Slope of every resample; -Inf or Inf where all calls fall in first or last surveyed seasons, NA where nothing can be said.
trend_draws <- function(Y, N, W, t, start = 0, tolerance = 1e-11) {
  total <- rowSums(Y)
  surveyed <- N > 0
  informative <- total > 0 & rowSums(surveyed) > 1
  first <- max.col(surveyed, "first")
  last <- max.col(surveyed, "last")
  rows <- seq_along(total)
  against_minus <- informative & Y[cbind(rows, first)] < total   # some calls after its first season
  against_plus <- informative & Y[cbind(rows, last)] < total
  any_of <- function(which) if (any(which)) rowSums(W[, which, drop = FALSE]) > 0 else rep(FALSE, nrow(W))
  low <- any_of(against_minus)
  high <- any_of(against_plus)
  slope <- ifelse(!any_of(informative), NA, ifelse(!low, -Inf, ifelse(!high, Inf, start)))

  d <- t - mean(t)
  span <- max(d) - min(d)
  WY <- sweep(W, 2, total, "*")
  observed <- as.vector(W %*% (Y %*% d))
  tN <- t(N)
  active <- which(is.finite(slope))
  for (step in 1:100) {
    if (length(active) == 0) return(slope)
    E <- exp(outer(slope[active], d))
    Ed <- sweep(E, 2, d, "*")
    D <- E %*% tN
    mean_d <- (Ed %*% tN) / D
    variance <- (sweep(Ed, 2, d, "*") %*% tN) / D - mean_d^2
    V <- WY[active, , drop = FALSE]
    move <- (observed[active] - rowSums(V * mean_d)) / rowSums(V * variance)
    move <- pmax(pmin(move, 2 / span), -2 / span)   # never more than a factor e^2 over the whole series
    slope[active] <- slope[active] + move
    active <- active[abs(move) * span > tolerance]
  }
  slope[active] <- NA
  slope
}

# Log season effects of every resample by Newton's method, the last season held at 0. Rows that do not settle come back NA:
# their table separates, and index_draws looks at them one by one.
season_effects <- function(Y, N, W, start, tolerance) {
  T <- ncol(Y)
  if (T == 1) return(matrix(0, nrow(W), 1))
  free <- T - 1
  tN <- t(N)
  WY <- sweep(W, 2, rowSums(Y), "*")
  observed <- W %*% Y
  columns <- lapply(seq_len(free), function(j) N[, j:free, drop = FALSE] * N[, j])   # n_j n_i, i = j..free
  products <- do.call(cbind, columns)
  ends <- cumsum(free:1)
  G <- matrix(start - start[T], nrow(W), T, byrow = TRUE)
  active <- seq_len(nrow(W))
  for (step in 1:15) {
    E <- exp(G[active, , drop = FALSE])
    D <- E %*% tN
    V <- WY[active, , drop = FALSE] / D
    mu <- E * (V %*% N)
    right <- (observed[active, , drop = FALSE] - mu)[, seq_len(free), drop = FALSE]
    cross <- (V / D) %*% products
    # Cholesky of all resamples' information matrices side by side: A[[j]] holds column j, one row a resample.
    A <- lapply(seq_len(free), function(j) {
      block <- -cross[, (ends[j] - free + j):ends[j], drop = FALSE] * E[, j:free, drop = FALSE] * E[, j]
      block[, 1] <- block[, 1] + mu[, j]
      block
    })
    for (j in seq_len(free)) {
      A[[j]] <- A[[j]] / sqrt(A[[j]][, 1])
      right[, j] <- right[, j] / A[[j]][, 1]
      if (j == free) break
      for (i in (j + 1):free) {
        l <- A[[j]][, i - j + 1]
        A[[i]] <- A[[i]] - A[[j]][, (i - j + 1):(free - j + 1), drop = FALSE] * l
        right[, i] <- right[, i] - right[, j] * l
      }
    }
    for (j in free:1) {
      if (j < free) right[, j] <- right[, j] - rowSums(A[[j]][, -1, drop = FALSE] * right[, (j + 1):free, drop = FALSE])
      right[, j] <- right[, j] / A[[j]][, 1]
    }
    longest <- do.call(pmax, as.data.frame(abs(right)))
    right <- right * pmin(1, 2 / longest)
    G[active, seq_len(free)] <- G[active, seq_len(free)] + right
    active <- active[is.na(longest) | longest > tolerance]
    if (length(active) == 0) break
  }
  G[active, ] <- NA
  G
}

# The index of every resample, seasons in columns, relative to the mean of the baseline columns; NA where there is none, and
# a whole row of NA where the baseline is silent, unsurveyed or cannot be compared.
index_draws <- function(Y, N, W, baseline, start = NULL, tolerance = 1e-11) {
  if (is.null(start)) start <- rep(0, ncol(Y))
  index <- matrix(NA_real_, nrow(W), ncol(Y))
  speaks <- rowSums(W %*% Y == 0) == 0   # no season silent
  if (any(speaks)) {
    ratio <- suppressWarnings(exp(season_effects(Y, N, W[speaks, , drop = FALSE], start, tolerance)))
    index[speaks, ] <- 100 * ratio / rowMeans(ratio[, baseline, drop = FALSE])
  }
  for (b in which(is.na(index[, 1]))) index[b, ] <- limit_index(Y, N, W[b, ], baseline, tolerance)
  index
}

# One resample at the limit of its likelihood: finite among seasons that lead to each other round about (Ford 1957), 0 for
# seasons they lead to one way only, NA for the others.
limit_index <- function(Y, N, w, baseline, tolerance) {
  seasons <- ncol(Y)
  kept <- w > 0 & rowSums(Y) > 0
  if (!any(kept)) return(rep(NA_real_, seasons))
  Y <- Y[kept, , drop = FALSE]
  N <- N[kept, , drop = FALSE]
  w <- w[kept]
  reach <- crossprod(Y > 0, N > 0) > 0
  for (step in seq_len(ceiling(log2(seasons)) + 1)) reach <- reach | (reach %*% reach > 0)
  # The season that heads the baseline: it has calls and leads to every other baseline season.
  head <- Filter(function(t) reach[t, t] && all(reach[t, setdiff(baseline, t)]), baseline)
  if (length(head) == 0) return(rep(NA_real_, seasons))
  linked <- reach[head[1], ] & reach[, head[1]]
  limits <- ifelse(reach[head[1], ], 0, NA_real_)
  if (sum(linked) == 1) {
    limits[linked] <- 1
  } else {
    calls <- Y[, linked, drop = FALSE]
    used <- rowSums(calls) > 0
    effects <- season_effects(calls[used, , drop = FALSE], N[used, linked, drop = FALSE], matrix(w[used], 1), rep(0, sum(linked)), tolerance)
    if (anyNA(effects)) effects <- slow_effects(calls[used, , drop = FALSE], N[used, linked, drop = FALSE], w[used])
    limits[linked] <- exp(effects - max(effects))
  }
  100 * limits / mean(limits[baseline])
}

# Proportional fitting, slow and sure, for the few tables on which Newton's method does not settle in its fifteen steps.
slow_effects <- function(Y, N, w) {
  observed <- colSums(w * Y)
  gamma <- rep(0, ncol(Y))
  for (step in 1:100000) {
    share <- w * rowSums(Y) / as.vector(N %*% exp(gamma))
    move <- log(observed / (exp(gamma) * as.vector(crossprod(N, share))))
    gamma <- gamma + move - move[1]
    if (max(abs(move - move[1])) < 1e-13) return(gamma)
  }
  stop("proportional fitting did not settle")
}
