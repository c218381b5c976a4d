# How far counts scatter about the trend, and the trend without each cluster in turn, as R works them out on the committed
# cells of the other references: Pearson's X2/df of stats::glm with one factor a unit (McCullagh & Nelder 1989, 6.2.3), which
# is what summary() of the quasi-Poisson fit reports, and one glm a cluster left out. Any unit without a count is left out.
#   dispersion.csv     X2, df and X2/df of the trend fit on each table
#   equal_stations.csv the slope with the weight of each unit divided by its total, so that units count alike
#   left_out.csv       the slope without each cluster: ships by type, simulated_a and simulated_b by wetland
source("../common.R")
about <- "cells of the folders named in the first column; stats::glm, one factor a unit"

trend <- function(cells) polished_glm(y ~ 0 + factor(unit) + t + offset(log(n)), cells)

cells_of <- function(name) {
  cells <- read_table(file.path("..", name))
  cells <- cells[cells$n > 0, ]
  cells <- cells[cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
  cells$t <- cells$season - mean(sort(unique(cells$season)))
  cells
}

rows <- list()
for (name in c("ships/cells.csv", "ships/columns_cells.csv", "salamanders/cells.csv", "grouseticks/cells.csv", "simulated_a/cells.csv", "simulated_b/cells.csv")) {
  cells <- cells_of(name)
  fit <- trend(cells)
  chi_square <- sum(residuals(fit, "pearson")^2)
  quasi <- summary(glm(y ~ 0 + factor(unit) + t + offset(log(n)), quasipoisson, cells, weights = weight, control = control))
  if (abs(quasi$dispersion / (chi_square / df.residual(fit)) - 1) > 1e-6) stop("summary() says otherwise")
  rows[[name]] <- data.frame(data = name, quantity = c("chi_square", "df", "dispersion"), value = c(chi_square, df.residual(fit), chi_square / df.residual(fit)))
}
write_reference(do.call(rbind, rows), "dispersion.csv", about, 1e-9)

rows <- list()
for (name in c("ships/cells.csv", "simulated_a/cells.csv", "simulated_b/cells.csv")) {
  cells <- cells_of(name)
  for (cluster in unique(cells$cluster)) {
    rest <- cells[cells$cluster != cluster, ]
    rows[[paste(name, cluster)]] <- data.frame(data = name, cluster = cluster, slope = unname(coef(trend(rest))["t"]))
  }
}
write_reference(do.call(rbind, rows), "left_out.csv", about, 1e-9)

rows <- list()
for (name in c("ships/cells.csv", "salamanders/cells.csv", "grouseticks/cells.csv", "simulated_a/cells.csv", "simulated_b/cells.csv")) {
  cells <- cells_of(name)
  cells$weight <- cells$weight / ave(cells$y, cells$unit, FUN = sum)
  rows[[name]] <- data.frame(data = name, slope = suppressWarnings(unname(coef(trend(cells))["t"])))
}
write_reference(do.call(rbind, rows), "equal_stations.csv", about, 1e-9)
