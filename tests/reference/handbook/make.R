# Three textbook tables with a factor for the unit and one for the column, by stats::glm (epsilon 1e-14, restarted until it
# stands still). Effects of the column given the unit are what the annual model estimates, so what was published for them is a check.
# doctors: deaths from coronary heart disease among British doctors by smoking and ten years of age, with person-years (Doll & Hill;
#   Breslow & Day 1987), as in boot::breslow. Smoking is the unit, age the column. Published on the page of a statistics package's manual
#   on Poisson regression (read): incidence-rate ratios of age 4.410584, 13.8392, 28.51678, 40.45121, log-likelihood -33.600153.
# warpbreaks: breaks of yarn (Tippett 1950, in R as datasets::warpbreaks), summed over the nine looms of each wool and tension; wool is the
#   unit, tension the column, nine looms the exposure. Published (read as quoted in secondary texts): -.32132, -.51849.
# dobson: Dobson 1990 p. 93, a randomised controlled trial, as in R's ?glm. Treatment is the unit, outcome the column. It is
#   balanced, so that the effects are also log ratios of totals.
# The tables are printed in the books named; the packages are GPL or older. Ages and the rest are numbered 1, 2, ... for seasons.
source("../common.R")

doctors <- with(boot::breslow, data.frame(unit = as.integer(smoke), season = match(age, sort(unique(age))), y = as.integer(y), n = as.integer(n)))
doctors <- doctors[order(doctors$unit, doctors$season), ]
doctors$unit <- match(doctors$unit, unique(doctors$unit))

broken <- aggregate(cbind(y = breaks, n = 1) ~ tension + wool, warpbreaks, sum)
broken <- data.frame(unit = match(broken$wool, c("A", "B")), season = match(broken$tension, c("L", "M", "H")), y = as.integer(broken$y), n = as.integer(broken$n))

dobson <- data.frame(unit = rep(1:3, each = 3), season = rep(1:3, 3), y = c(18L, 17L, 15L, 20L, 10L, 20L, 25L, 13L, 12L), n = 1L)

sources <- c(doctors = "boot::breslow; Breslow & Day 1987", warpbreaks = "datasets::warpbreaks; Tippett 1950", dobson = "Dobson 1990 p. 93, as in R's ?glm")
cells <- list(doctors = doctors, warpbreaks = broken, dobson = dobson)
for (name in names(cells)) {
  table <- cells[[name]]
  table$cluster <- table$unit; table$weight <- 1
  table <- table[c("cluster", "unit", "season", "y", "n", "weight")]
  write_reference(table, paste0(name, "_cells.csv"), sources[[name]], 0, "boot")
  write_reference(reference_fits(table), paste0(name, "_fit.csv"), paste0("stats::glm, unit + column, on ", name, "_cells.csv"), 1e-9)
}
published <- rbind(
  data.frame(data = "doctors", season = 2:5, quantity = "ratio_to_first", value = c(4.410584, 13.8392, 28.51678, 40.45121), digits = c(6, 4, 5, 5)),
  data.frame(data = "warpbreaks", season = 2:3, quantity = "log_ratio_to_first", value = c(-.32132, -.51849), digits = 5))
write_reference(published, "published.csv", "doctors: a statistics package's manual on Poisson regression (read); warpbreaks: printed R output quoted in secondary texts", 0)
# The whole likelihood of the first is published too; glm must come to it, or the table is not the published one.
fit <- glm(y ~ factor(unit) + factor(season) + offset(log(n)), poisson, doctors, control = control)
stopifnot(abs(as.numeric(logLik(fit)) + 33.600153) < 5e-7, abs(exp(coef(fit)[2]) - 1.425519) < 5e-7)
