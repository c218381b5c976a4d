# The intervals that the coverage study compares with the engine's, on the counts of simulated_a (each station weight 1),
# written out in R from their definitions with full matrices: a column for every station, no profiling.
#   weights.csv     weights of a wild cluster bootstrap: Webb's six values, 99 draws of one weight a wetland
#   quantities.csv  errors, degrees of freedom, ends and p-values
# CR1: Liang & Zeger 1986, times sqrt(K/(K-1)). CR2 and its degrees of freedom: Bell & McCaffrey 2002, with the working
# model's own variance (calls Poisson). Studentised bootstrap: Efron & Tibshirani 1993, section 12.5, on the resamples of
# bootstrap/multiplicities.csv, each with its own CR1 error, copies of a wetland apart. Wild cluster bootstrap: Cameron,
# Gelbach & Miller 2008, in the score form of Kline & Santos 2012. No published worked example for fixed-effect Poisson was found.
source("../common.R")
about <- "R from the definitions, fits by stats::glm, on simulated_a with weights 1 and bootstrap/multiplicities.csv"
cells <- transform(read_table("../simulated_a/cells.csv"), weight = 1)
multiplicities <- as.matrix(read_table("../bootstrap/multiplicities.csv")[, -1])
wetlands <- sort(unique(cells$cluster))
cells <- cells[cells$n > 0 & cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
cells$t <- cells$season - mean(range(cells$season))

prepared <- function(part) { part <- part[part$weight > 0, ]; part$unit <- factor(part$unit); part }
trend <- function(part) polished_glm(y ~ 0 + unit + t + offset(log(n)), part)
whole <- prepared(cells)
fit <- trend(whole)
slope <- unname(coef(fit)["t"])
K <- length(unique(whole$cluster[whole$unit %in% names(which(table(whole$unit) > 1))]))

X <- model.matrix(fit)
mu <- fitted(fit)
B <- solve(crossprod(X, mu * X))
at <- ncol(X)
stopifnot(colnames(X)[at] == "t")
groups <- split(seq_len(nrow(X)), whole$cluster)
meat <- Reduce(`+`, lapply(groups, function(i) tcrossprod(colSums(X[i, , drop = FALSE] * (whole$y - mu)[i]))))
cr1 <- sqrt(K / (K - 1) * (B %*% meat %*% B)[at, at])

Xw <- sqrt(mu) * X
r <- (whole$y - mu) / sqrt(mu)
H <- Xw %*% B %*% t(Xw)
inverse_root <- function(M) {
  e <- eigen(M, symmetric = TRUE)
  keep <- e$values > 1e-9
  e$vectors[, keep, drop = FALSE] %*% (t(e$vectors[, keep, drop = FALSE]) / sqrt(e$values[keep]))
}
adjusted <- lapply(groups, function(i) inverse_root(diag(length(i)) - H[i, i, drop = FALSE]))
pieces <- vapply(seq_along(groups), function(g) (B %*% t(Xw[groups[[g]], , drop = FALSE]) %*% adjusted[[g]] %*% r[groups[[g]]])[at], 0)
cr2 <- sqrt(sum(pieces^2))
P <- vapply(seq_along(groups), function(g) {
  i <- groups[[g]]
  as.vector((diag(nrow(X)) - H)[, i, drop = FALSE] %*% adjusted[[g]] %*% Xw[i, , drop = FALSE] %*% B[, at])
}, numeric(nrow(X)))
G <- crossprod(P)
df2 <- sum(diag(G))^2 / sum(G^2)

t_star <- apply(multiplicities, 1, function(m) {
  part <- cells
  part$weight <- m[match(part$cluster, wetlands)]
  part <- prepared(part)
  again <- trend(part)
  times <- tapply(part$weight, part$cluster, max)
  score <- tapply((part$y - fitted(again)) * part$t, part$cluster, sum)   # a station's residuals add up to 0
  copies <- sum(times)
  error <- sqrt(copies / (copies - 1) * sum(times * score^2)) * vcov(again)["t", "t"]
  (unname(coef(again)["t"]) - slope) / error
})
ends <- quantile(t_star, c(.025, .975), type = 6, names = FALSE)

set.seed(20080907)
weights <- matrix(sample(c(-1, 1) %o% sqrt(c(.5, 1, 1.5)), 99 * K, TRUE), 99, K)
score_at <- function(beta) {
  null <- glm(y ~ 0 + unit + offset(log(n) + beta * t), poisson, whole, control = control)
  tapply((whole$y - fitted(null)) * whole$t, whole$cluster, sum)
}
wild_p <- function(beta) {
  S <- score_at(beta)
  statistic <- sum(S)^2 / sum(S^2)
  drawn <- apply(weights, 1, function(v) sum(v * S)^2 / sum((v * S)^2))
  (1 + sum(drawn >= statistic * (1 - 1e-10))) / (1 + length(drawn))
}
betas <- round(slope + c(-3, -2, -1, .5, 1.5, 2.5) * cr1, 4)

write_reference(data.frame(draw = 1:99, structure(as.data.frame(weights), names = paste0("c", 1:K))), "weights.csv", "Webb's six-point weights, set.seed(20080907)", 1e-12)
put <- function(quantity, at, value) data.frame(quantity = quantity, at = at, value = value)
write_reference(rbind(
  put("slope", "", slope), put("clusters", "", K), put("cr1_error", "", cr1), put("cr2_error", "", cr2), put("cr2_freedom", "", df2),
  put("studentised_lower", "", slope - ends[2] * cr1), put("studentised_upper", "", slope - ends[1] * cr1),
  put("wild_p", round_trip(betas), vapply(betas, wild_p, 0))), "quantities.csv", about, 1e-6)
