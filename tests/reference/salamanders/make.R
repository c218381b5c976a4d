# Stream salamanders, West Virginia: Price, Muncy, Bonner, Drayer & Barton (2016), J. Appl. Ecol. 53:459-468, as in
# glmmTMB::Salamanders. The package is AGPL-3, so its data are not copied here: what is committed is a summary of ours,
# the total over all species at each of 23 sites on each of 4 visits. Visits within one study, not years, and salamanders
# counted, not frogs heard: a check of arithmetic on real amphibian counts and no more. A balanced table, so the annual
# effects equal the log ratios of the visits' totals exactly, which is a second check by hand.
source("../common.R")
about <- "site x visit totals of glmmTMB::Salamanders (AGPL-3; no raw data copied); Price et al. 2016"
data(Salamanders, package = "glmmTMB")
totals <- aggregate(count ~ site + sample, Salamanders, sum)
totals <- totals[order(as.character(totals$site), totals$sample), ]
cells <- with(totals, data.frame(cluster = as.character(site), unit = as.character(site), season = as.integer(sample), y = as.integer(count), n = 1, weight = 1))
write_reference(cells, "cells.csv", about, 0, "glmmTMB")
fits <- reference_fits(cells)
visits <- tapply(cells$y, cells$season, sum)
fits <- rbind(fits, data.frame(model = "closed_form", term = names(visits)[-1], quantity = "log_ratio_to_first", value = as.numeric(log(visits[-1] / visits[1]))))
write_reference(fits, "fit.csv", about, 1e-9, "glmmTMB")
