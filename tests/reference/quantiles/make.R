# Quantiles of the normal and of Student's t from R's qnorm (Wichura 1988, AS 241) and qt, and sample quantiles of type 6
# (Hyndman & Fan 1996, definition 6: position p (n + 1), ends held) and type 1 (inverse distribution function) from stats::quantile.
source("../common.R")
about <- "R qnorm, qt, pnorm, quantile"
p <- c(1e-10, 1e-6, .0005, .001, .005, .01, .025, .05, .1, .25, .4, .5, .6, .75, .9, .95, .975, .99, .995, .999, .9995, 1 - 1e-6)
write_reference(data.frame(p = p, quantile = qnorm(p)), "normal.csv", about, 1e-12)
x <- c(-8, -5, -3, -1.96, -1, -.5, -.1, 0, .1, .5, 1, 1.96, 3, 5, 8)
write_reference(data.frame(x = x, probability = pnorm(x)), "normal_cdf.csv", about, 1e-12)
grid <- expand.grid(p = c(.5, .9, .95, .975, .995, .9995), df = 1:60)
write_reference(data.frame(df = grid$df, p = grid$p, quantile = qt(grid$p, grid$df)), "student.csv", about, 1e-12)
fractional <- expand.grid(p = c(.9, .975, .995), df = c(1.5, 2.25, 4.8, 7.3, 11.9, 23.45))   # pooled degrees of freedom are not whole
write_reference(data.frame(df = fractional$df, p = fractional$p, quantile = qt(fractional$p, fractional$df)), "student_fractional.csv", about, 1e-12)

samples <- list(one = 3.5, two = c(-1, 2), ties = c(2, 2, 2, 5, 5, 7), ten = c(.3, -1.2, 4.4, 2.25, 0, 9.1, -3.7, 1.5, 1.5, 6.02),
                thirty_nine = sort((1:39 * 7919) %% 1009) / 7, infinite = c(-Inf, -Inf, -2, 0, 1, 3, Inf))
levels <- c(.01, .025, .05, .1, .25, 1 / 3, .5, .75, .9, .95, .975, .99)
write_reference(do.call(rbind, lapply(names(samples), function(s) data.frame(sample = s, i = seq_along(samples[[s]]), value = samples[[s]]))), "samples.csv", about, 0)
quantiles <- do.call(rbind, lapply(names(samples), function(s) do.call(rbind, lapply(c(6, 1), function(type)
  data.frame(sample = s, type = type, level = levels, quantile = quantile(samples[[s]], levels, type = type, names = FALSE))))))
write_reference(quantiles, "quantiles.csv", about, 1e-12)
