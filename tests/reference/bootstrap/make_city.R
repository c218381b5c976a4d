# The city data of R's boot package and the 999 resamples of its ratio that the package's own worked example draws (set.seed(1)
# before R 3.6's change of sample()). Published with the package, in its tests' expected output, for 95 %:
# percentile 1.242 to 2.109, BCa 1.243 to 2.110 (read). Draws and what boot.ci makes of them are written; this script stops when
# boot.ci itself does not come to the published digits.
# boot.ci's BCa takes the acceleration from the empirical influence values, the infinitesimal jackknife.
#   city_draws.csv      the resampled ratios, in order of drawing
#   city_published.csv  the published ends and the acceleration that belongs to them
source("../common.R")
library(boot)
suppressWarnings(set.seed(1, sample.kind = "Rounding"))
ratio <- function(d, w) sum(d$x * w) / sum(d$u * w)
b <- boot(city, ratio, R = 999, stype = "w", sim = "ordinary")
ci <- boot.ci(b, type = c("perc", "bca"))
published <- data.frame(kind = c("percentile", "percentile", "bca", "bca"), end = c("lower", "upper"), value = c(1.242, 2.109, 1.243, 2.110), digits = 3)
stopifnot(all(abs(c(ci$percent[4:5], ci$bca[4:5]) - published$value) <= .0005 + 1e-12))
L <- empinf(b)
published <- rbind(published, data.frame(kind = "acceleration", end = "", value = sum(L^3) / (6 * sum(L^2)^1.5), digits = NA))
write_reference(data.frame(draw = seq_along(b$t), ratio = drop(b$t)), "city_draws.csv", "boot::boot on boot::city, seed 1; Davison & Hinkley 1997, example 1.1", 1e-12, "boot")
write_reference(published, "city_published.csv", "expected output of the boot package's own tests (boot-Ex.Rout.save), read", 1e-12, "boot")
