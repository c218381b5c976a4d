# What needs no optimiser. Visits to infer absence: ln(alpha) / ln(1 - p), Kery 2002 (J. Wildl. Manage. 66:330), of which
# only the abstract was seen, so these are arithmetic and no printed values. Chance of presence after silence: Bayes' rule.
# The constant single-season model (MacKenzie et al. 2002): p solves K p / (1 - (1 - p)^K) = detections / sites detected,
# psi = share detected / (1 - (1 - p)^K), else psi = 1 and p = detections / visits. With K = 2, 20 of 40 sites and 30
# detections the answer is p = 2/3, psi = 9/16 by hand. Standard errors: the information matrix in psi and p, by hand.
# Chance of silence: enumeration of every way to spread the detections over the visits.
source("../common.R")
about <- "closed forms (Kery 2002; MacKenzie et al. 2002; Bayes' rule; enumeration); arithmetic, no printed values"

visits <- expand.grid(p = c(.05, .1, .2, .3, .4, .5, .6, .7, .75, .8, .9, .95, .99), alpha = c(.05, .01))
visits$exact <- log(visits$alpha) / log(1 - visits$p)
# p = .95, .99 and .9 meet alpha exactly: (1 - p)^n computed in whole hundredths says so without rounding.
whole <- function(p, alpha) { n <- 1; while (round(100 * (1 - p))^n > round(100 * alpha) * 100^(n - 1)) n <- n + 1; n }
visits$whole <- mapply(function(p, alpha) if (p <= .1) ceiling(log(alpha) / log(1 - p)) else whole(p, alpha), visits$p, visits$alpha)
write_reference(visits, "visits.csv", about, 1e-12)

chance <- expand.grid(psi = c(.3, .5, .8), p = c(.3, .6), k = c(1, 3, 5))
chance$chance <- with(chance, psi * (1 - p)^k / (1 - psi + psi * (1 - p)^k))
write_reference(chance, "presence.csv", about, 1e-12)

constant <- function(case, n, K, nd, D) {
  p <- if (nd == D) 0 else if (D == K * nd) 1 else uniroot(function(p) K * p / (1 - (1 - p)^K) - D / nd, c(1e-9, 1 - 1e-12), tol = 1e-15, maxiter = 5000)$root
  psi <- if (p == 0) Inf else nd / n / (1 - (1 - p)^K)
  status <- if (psi >= 1) "psi_one" else if (p == 1) "p_one" else "interior"
  if (psi >= 1) { psi <- 1; p <- D / (n * K) }
  q <- (1 - p)^K; e <- 1 - psi + psi * q            # e: the chance that a site is silent throughout
  f <- function(k, x) ifelse(k == 0, 0, k * x)      # 0 log 0 = 0
  value <- f(nd, log(psi)) + f(D, log(p)) + f(K * nd - D, log(1 - p)) + f(n - nd, log(e))
  se <- c(NA, NA)
  if (status == "interior") {
    dq <- -K * (1 - p)^(K - 1); ddq <- K * (K - 1) * (1 - p)^(K - 2)
    a <- nd / psi^2 + (n - nd) * (1 - q)^2 / e^2
    b <- D / p^2 + (K * nd - D) / (1 - p)^2 - (n - nd) * (psi * ddq / e - (psi * dq / e)^2)
    c <- -(n - nd) * (dq / e - (q - 1) * psi * dq / e^2)
    se <- sqrt(c(b, a) / (a * b - c^2))
  }
  data.frame(case, n, K, sites_detected = nd, detections = D, status, psi, p, log_likelihood = value, se_psi = se[1], se_p = se[2])
}
fits <- rbind(constant("by_hand", 40, 2, 20, 30), constant("five_visits", 39, 5, 18, 30), constant("three_visits", 60, 3, 33, 58),
              constant("once_each", 10, 2, 10, 10), constant("mostly_once", 50, 3, 40, 44), constant("never_missed", 30, 3, 12, 36))
write_reference(fits, "constant.csv", about, 1e-9)

# Every way to put k detections on m + n visits: the share of the weight (product of the odds) on those within the first m.
spread <- function(k, with, silent) {
  odds <- c(with, silent)
  ways <- combn(length(odds), k)
  weight <- apply(matrix(odds[ways], k), 2, prod)
  sum(weight[ways[k, ] <= length(with)]) / sum(weight)
}
set.seed(40)
silence <- NULL
for (case in list(c(1, 3, 2), c(3, 5, 4), c(4, 4, 6), c(2, 9, 6), c(6, 12, 3), c(1, 1, 9))) {
  for (kind in c("equal", "unequal")) {
    odds <- if (kind == "equal") rep(1, sum(case[2:3])) else round(exp(rnorm(sum(case[2:3]))), 3)
    silence <- rbind(silence, data.frame(detections = case[1], with = case[2], silent = case[3], odds = paste(odds, collapse = " "),
                                         chance = spread(case[1], odds[seq_len(case[2])], odds[-seq_len(case[2])])))
  }
}
write_reference(silence, "silence.csv", about, 1e-12)
