# Ticks on red grouse chicks: Elston, Moss, Boulinier, Arrowsmith & Lambin (2001), Parasitology 122:563-569, as in
# lme4::grouseticks (package lme4, GPL-2 or later). Totals over chicks at each location in each of three years: real
# counts, unbalanced, many locations visited in one year only, several without a tick. Effort is the number of chicks.
source("../common.R")
about <- "location x year totals of lme4::grouseticks (GPL); Elston et al. 2001"
data(grouseticks, package = "lme4")
grouseticks$n <- 1
totals <- aggregate(cbind(TICKS, n) ~ LOCATION + YEAR, grouseticks, sum)
totals$YEAR <- 1900L + as.integer(as.character(totals$YEAR))
totals <- totals[order(as.integer(as.character(totals$LOCATION)), totals$YEAR), ]
cells <- with(totals, data.frame(cluster = LOCATION, unit = LOCATION, season = YEAR, y = as.integer(TICKS), n = n, weight = 1))
write_reference(cells, "cells.csv", about, 0, "lme4")
write_reference(reference_fits(cells), "fit.csv", about, 1e-9, "lme4")
