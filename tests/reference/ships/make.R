# Ship damage incidents: McCullagh & Nelder (1989), Generalized Linear Models, 2nd ed., table 6.2, as in MASS::ships
# (package MASS, GPL-2 | GPL-3; the forty numbers are facts of the published table). Ship type stands for a station,
# months of service for effort.
#   rows.csv         the table itself
#   cells.csv        type x year of construction, service and incidents summed over the period of operation
#   fit.csv          trend and annual models on those cells
#   columns_*.csv    the same with one column per (year, period): type x 7 columns, season-saturated
#   conditional.csv  the published conditional (fixed-effect) Poisson fit year + period given type. Published, as quoted by
#                    secondary texts: log-likelihood -54.641859, Wald chi2(4) 48.44 (Stata manual, xtpoisson, fe).
source("../common.R")
about <- "McCullagh & Nelder 1989 table 6.2 (MASS::ships), stats::glm"
ships <- MASS::ships
write_reference(ships, "rows.csv", "McCullagh & Nelder 1989 table 6.2, MASS::ships", 0, "MASS")

used <- subset(ships, service > 0)
cells <- aggregate(cbind(y = incidents, n = service) ~ type + year, used, sum)
cells <- with(cells[order(cells$type, cells$year), ], data.frame(cluster = type, unit = type, season = 1900L + year, y = y, n = as.numeric(n), weight = 1))
write_reference(cells, "cells.csv", about, 0, "MASS")
write_reference(reference_fits(cells), "fit.csv", about, 1e-9, "MASS")

columns <- unique(used[order(used$year, used$period), c("year", "period")])
used$column <- match(paste(used$year, used$period), paste(columns$year, columns$period))
wide <- with(used[order(used$type, used$column), ], data.frame(cluster = type, unit = type, season = column, y = incidents, n = as.numeric(service), weight = 1))
write_reference(wide, "columns_cells.csv", about, 0, "MASS")
write_reference(reference_fits(wide), "columns_fit.csv", about, 1e-9, "MASS")

used$weight <- 1
fit <- polished_glm(incidents ~ type + factor(year) + factor(period) + offset(log(service)), used)
effects <- coef(fit)[6:9]
wald <- as.numeric(t(effects) %*% solve(vcov(fit)[6:9, 6:9]) %*% effects)
given <- data.frame(unit = used$type, y = used$incidents, weight = 1)
terms <- c("year65", "year70", "year75", "period75")
table <- rbind(
  data.frame(term = terms, quantity = "log_effect", value = unname(effects)),
  data.frame(term = terms, quantity = "incidence_rate_ratio", value = unname(exp(effects))),
  data.frame(term = "", quantity = c("conditional_log_likelihood", "wald_chi2_4df"), value = c(conditional_log_likelihood(given, fitted(fit)), wald)),
  data.frame(term = "", quantity = c("published_conditional_log_likelihood", "published_wald_chi2_4df"), value = c(-54.641859, 48.44)))
write_reference(table, "conditional.csv", paste(about, "; published values: Stata manual, xtpoisson with fe, read in secondary texts", sep = ""), 1e-9, "MASS")
