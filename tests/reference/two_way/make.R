# Standard errors of a slope that allow for dependence within wetlands and within seasons at once, by R's sandwich package
# (Zeileis, Koll & Graham 2020, "Various versatile variances", J. Statistical Software 95(1)): vcovCL with two clusters, HC0,
# each part times G/(G - 1), no further correction. The method: Cameron, Gelbach & Miller 2011, J. Business & Economic
# Statistics 29: 238-249. Fits by stats::glm with stations as factors, as in the other tables.
#   expected.csv  for each table of cells: the three parts, their sum, numbers of groups
# Stations surveyed in one season are left out: they are fitted exactly, but would count as groups.
source("../common.R")
library(sandwich)

rows <- list()
for (name in c("simulated_a", "simulated_b", "grouseticks", "ships")) {
  cells <- read_table(file.path("..", name, "cells.csv"))
  cells <- cells[cells$n > 0, ]
  cells <- cells[cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
  cells <- cells[cells$unit %in% names(which(table(cells$unit) > 1)), ]
  cells$unit <- factor(cells$unit)
  cells$t <- cells$season - mean(unique(cells$season))
  cells$cell <- paste(cells$cluster, cells$season)
  fit <- polished_glm(y ~ 0 + unit + t + offset(log(n)), cells)
  part <- function(by) vcovCL(fit, cluster = by, type = "HC0", cadjust = TRUE)["t", "t"]
  both <- vcovCL(fit, cluster = cells[c("cluster", "season")], type = "HC0", cadjust = TRUE)["t", "t"]
  put <- function(quantity, value) rows[[length(rows) + 1]] <<- data.frame(data = name, quantity = quantity, value = value)
  put("slope", unname(coef(fit)["t"]))
  put("by_cluster", part(cells$cluster))
  put("by_period", part(cells$season))
  put("by_cell", part(cells$cell))
  put("sum", both)
  put("clusters", length(unique(cells$cluster)))
  put("periods", length(unique(cells$season)))
}

# The mean slope of two series of the same wetlands: simulated_a, and the same with every third cell silenced (station +
# season number divisible by 3). Stacked into one regression with stations and slope of each series of its own, the mean's variance is
# that of (slope 1 + slope 2) / 2 in the stacked sandwich.
cells <- read_table("../simulated_a/cells.csv")
seasons <- sort(unique(cells$season))
second <- transform(cells, y = ifelse((match(unit, unique(unit)) + match(season, seasons)) %% 3 == 0, 0, y))
stacked <- do.call(rbind, lapply(1:2, function(k) {
  part <- list(cells, second)[[k]]
  part <- part[part$n > 0 & part$unit %in% names(which(tapply(part$y, part$unit, sum) > 0)), ]
  part <- part[part$unit %in% names(which(table(part$unit) > 1)), ]
  transform(part, series = k, unit = paste(k, unit))
}))
stacked$unit <- factor(stacked$unit)
stacked$t1 <- (stacked$series == 1) * (stacked$season - mean(seasons))
stacked$t2 <- (stacked$series == 2) * (stacked$season - mean(seasons))
fit <- polished_glm(y ~ 0 + unit + t1 + t2 + offset(log(n)), stacked)
half <- function(by) { V <- vcovCL(fit, cluster = by, type = "HC0", cadjust = TRUE)[c("t1", "t2"), c("t1", "t2")]; sum(V) / 4 }
put <- function(quantity, value) rows[[length(rows) + 1]] <<- data.frame(data = "mean_of_two", quantity = quantity, value = value)
put("slope", unname(mean(coef(fit)[c("t1", "t2")])))
put("by_cluster", half(stacked$cluster))
put("by_period", half(stacked$season))
put("by_cell", half(paste(stacked$cluster, stacked$season)))
put("sum", half(stacked[c("cluster", "season")]))
write_reference(do.call(rbind, rows), "expected.csv", "sandwich::vcovCL with two clusters on stats::glm; Cameron, Gelbach & Miller 2011", 1e-7, "sandwich")
