# The law schools' correlation: its acceleration and BCa levels here, its exact distribution by law_exact.c. Needs a C
# compiler, 1.3 GB and about a minute; without a compiler it says so and leaves (exit 3).
source("../common.R")
if (!nzchar(Sys.which("cc"))) { message("missing: cc (a C compiler), for law_exact.c"); quit(status = 3) }
about <- "exact enumeration of 77,558,760 multisets (law_exact.c); Efron & Tibshirani 1993 table 3.1"
law <- subset(read_table("data.csv"), check == "law")
n <- nrow(law)
without <- sapply(seq_len(n), function(i) cor(law$x[-i], law$y[-i]))
centred <- function(v) (v - mean(v)) / sqrt(mean((v - mean(v))^2))
r <- cor(law$x, law$y)
influence <- centred(law$x) * centred(law$y) - r / 2 * (centred(law$x)^2 + centred(law$y)^2)
cubes <- function(l) sum(l^3) / (6 * sum(l^2)^1.5)
a <- cubes(mean(without) - without)

program <- tempfile()
if (system2("cc", c("-O2", "-o", program, "law_exact.c", "-lm")) != 0) stop("cc failed")
run <- function(levels) read.csv(text = system2(program, sprintf("%.17g", levels), stdout = TRUE), colClasses = c("character", "numeric", "numeric"))
levels <- c(.025, .05, .95, .975)
first <- run(levels)
below <- first$value[first$quantity == "probability_below"]
z0 <- qnorm(below)
z <- z0 + qnorm(levels)
bca_levels <- pnorm(z0 + z / (1 - a * z))
second <- run(bca_levels)
rows <- rbind(
  data.frame(quantity = c("estimate", "acceleration_jackknife", "acceleration_infinitesimal", "standard_error_jackknife", "probability_below", "z0", "standard_error"),
             level = NA, value = c(r, a, cubes(influence), sqrt((n - 1) / n * sum((without - mean(without))^2)), below, z0, first$value[first$quantity == "standard_error"])),
  data.frame(quantity = "percentile", level = levels, value = first$value[first$quantity == "quantile"]),
  data.frame(quantity = "bca_level", level = levels, value = bca_levels),
  data.frame(quantity = "bca", level = levels, value = second$value[second$quantity == "quantile"]))
write_reference(cbind(check = "law", rows), "law.csv", about, 1e-9)
