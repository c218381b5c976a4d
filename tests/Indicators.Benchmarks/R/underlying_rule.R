# How often the underlying interval holds, with Student's stretch alone and times c(T) = 1 - 1.1 / T^1.5, in the worlds that
# the rule was chosen in. Draws are moved about the slope by one factor, so that a stretched interval follows exactly.
#   Rscript underlying_rule.R RULES SUMMARY    RULES from `coverage rules`, written by an engine without c(T)
files <- commandArgs(TRUE)
series <- read.csv(files[1])
off <- series$truth - series$slope
needed <- off / ifelse(off > 0, series$upper - series$slope, series$lower - series$slope)
cell <- factor(series$cell, unique(series$cell))
shares <- function(factor) {
  held <- tapply(needed <= factor, cell, sum)
  given <- tapply(needed, cell, length)
  worlds <- aggregate(cbind(held = needed <= factor, given = 1), list(cell = cell, world = series$world), sum)
  share <- held / given
  left <- worlds$held - share[worlds$cell] * worlds$given
  list(share = share, error = sqrt(tapply(left^2, worlds$cell, sum)) / given)
}
before <- shares(1)
after <- shares(1 - 1.1 / series$seasons^1.5)
write.csv(data.frame(
  cell = levels(cell), worlds = tapply(series$world, cell, max) + 1, seasons = tapply(series$seasons, cell, mean),
  serial = tapply(series$serial, cell, mean), t_alone = round(before$share, 4), in_force = round(after$share, 4), error = round(after$error, 4)),
  files[2], row.names = FALSE, quote = FALSE)
