# The common course of several series on the log scale, by stats::lm with one factor a series and one a season over the
# cells that are there: 0 for the first season, then moved so that the effects of the anchor series add up to zero (the series
# that share the baseline). Cells below 1 % of the baseline stand at 1 %. One table is complete: there the course must be the geometric
# mean of Buckland et al. 2005 (Phil. Trans. R. Soc. B 360: 243-254), which is worked out here too and compared before anything is written.
# Cases: complete; late (two series start later, one of them no anchor); holes (missing at random); floor (values far below 1 %).
source("../common.R")
suppressWarnings(RNGversion("4.2.0"))
set.seed(20051117)

rows <- list(); fits <- list()
course <- function(case, x, anchors) {   # x: series by season, percent of each one's own baseline
  logs <- log(pmax(x, 1) / 100)
  d <- data.frame(series = factor(row(x)), season = factor(col(x)), value = c(logs))[!is.na(c(x)), ]
  fit <- lm(value ~ 0 + series + season, d)
  a <- coef(fit)[paste0("series", seq_len(nrow(x)))]
  g <- c(0, coef(fit)[paste0("season", 2:ncol(x))])
  g <- g + mean(a[anchors])
  if (case == "complete") stopifnot(max(abs(100 * exp(g) - apply(x, 2, function(v) 100 * exp(mean(log(v / 100)))))) < 1e-9)
  rows[[case]] <<- data.frame(case = case, series = c(row(x)), anchor = as.integer(c(row(x)) %in% anchors), season = c(col(x)), percent = c(x))
  fits[[case]] <<- data.frame(case = case, season = seq_len(ncol(x)), index = unname(100 * exp(g)))
}
draw <- function(series, seasons) 100 * exp(t(replicate(series, cumsum(rnorm(seasons, -.03, .2)))))

course("complete", draw(4, 8), 1:4)
x <- draw(5, 10); x[4, 1:4] <- NA; x[5, 1:6] <- NA; x[5, ] <- x[5, ] / x[5, 7] * 100
course("late", x, 1:4)
x <- draw(6, 12); x[sample(length(x), 20)] <- NA; x[2, 3] <- 100
course("holes", x, c(1, 2, 3, 6))
x <- draw(3, 6); x[2, 5:6] <- c(.2, 0); x[3, 1] <- NA
course("floor", x, 1:2)
write_reference(do.call(rbind, rows), "series.csv", "drawn in make.R, set.seed(20051117)", 0)
write_reference(do.call(rbind, fits), "expected.csv", "stats::lm, one factor a series and one a season", 1e-9)
