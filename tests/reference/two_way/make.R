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
write_reference(do.call(rbind, rows), "expected.csv", "sandwich::vcovCL with two clusters on stats::glm; Cameron, Gelbach & Miller 2011", 1e-7, "sandwich")
