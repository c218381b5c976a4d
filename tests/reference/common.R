# Shared by every reference script: reading and writing the committed tables, and the two regressions as R fits them.
# Nothing here calls the project's own engine; everything is base R and stats::glm.

# Every script is started in its own folder: cd tests/reference/NAME && Rscript make.R [OUTPUT_FOLDER]
output_folder <- function() {
  arguments <- commandArgs(TRUE)
  if (length(arguments) > 0) arguments[1] else "."
}

read_table <- function(path) read.csv(path, comment.char = "#", stringsAsFactors = FALSE, check.names = FALSE)

# The shortest form that reads back as the same double: 15 digits where they do, else 17. Missing stays empty.
round_trip <- function(x) {
  if (is.integer(x) || !is.numeric(x)) return(ifelse(is.na(x), "", as.character(x)))
  short <- sprintf("%.15g", x)
  text <- ifelse(!is.na(x) & suppressWarnings(as.numeric(short)) == x, short, sprintf("%.17g", x))
  ifelse(is.na(x), "", ifelse(is.infinite(x), ifelse(x > 0, "inf", "-inf"), text))
}

# Every table opens with where its numbers come from, what made them, how to make them again, and the relative
# difference that a rerun on another machine may show.
write_reference <- function(table, name, source, tolerance, packages = character()) {
  tools <- paste("R", getRversion())
  for (package in packages) tools <- paste0(tools, ", ", package, " ", packageVersion(package))
  connection <- file(file.path(output_folder(), name), open = "wb")
  on.exit(close(connection))
  writeLines(c(paste("# source:", source), paste("# tools:", tools),
               paste0("# rerun: tests/reference/rerun ", basename(getwd())), paste("# tolerance:", tolerance)), connection)
  writeLines(paste(names(table), collapse = ","), connection)
  writeLines(do.call(paste, c(unname(lapply(table, round_trip)), sep = ",")), connection)
}

control <- glm.control(epsilon = 1e-14, maxit = 500)

# glm stops on the deviance, which is flat to second order at the optimum: a relative change of 1e-14 there still leaves
# about 1e-8 in a coefficient. So each fit is started again from its own answer until the coefficients stand still.
polished_glm <- function(formula, data) {
  environment(formula) <- environment()
  fit <- glm(formula, poisson, data, weights = weight, control = control)
  for (step in 1:5) {
    again <- glm(formula, poisson, data, weights = weight, control = control, start = coef(fit))
    moved <- max(abs(coef(again) - coef(fit)))
    fit <- again
    if (moved < 1e-15) break
  }
  if (!fit$converged) stop("glm did not converge")
  fit
}

# Log-likelihood of each unit's counts over its seasons given the unit's total (a multinomial). Weights play no part in it.
conditional_log_likelihood <- function(cells, mu) {
  units <- split(seq_len(nrow(cells)), cells$unit)
  sum(vapply(units, function(i) dmultinom(cells$y[i], prob = mu[i] / sum(mu[i]), log = TRUE), 0))
}

# Both models on one table of cells (unit, season, y, n, weight, cluster), as one long table of expected values.
# Units without a single call carry no information about the season effects and are left out, as the methods say.
reference_fits <- function(cells, baseline_length = 3) {
  cells <- cells[cells$n > 0, ]
  cells <- cells[cells$unit %in% names(which(tapply(cells$y, cells$unit, sum) > 0)), ]
  cells$unit <- factor(cells$unit)
  seasons <- sort(unique(cells$season))
  cells$column <- factor(cells$season, levels = seasons)
  cells$t <- cells$season - mean(seasons)   # any origin gives the same slope; a central one conditions better
  rows <- list()
  put <- function(model, term, quantity, value)
    rows[[length(rows) + 1]] <<- data.frame(model = model, term = term, quantity = quantity, value = value)

  trend <- polished_glm(y ~ 0 + unit + t + offset(log(n)), cells)
  put("trend", "slope", "estimate", unname(coef(trend)["t"]))
  put("trend", "slope", "se", sqrt(vcov(trend)["t", "t"]))
  put("trend", "slope", "percent_per_season", 100 * expm1(unname(coef(trend)["t"])))
  put("trend", "", "conditional_log_likelihood", conditional_log_likelihood(cells, fitted(trend)))

  # A silent season has its maximum at log ratio minus infinity: index 0, and the others fit as if it were not there.
  silent <- tapply(cells$weight * cells$y, cells$column, sum) == 0
  finite <- droplevels(cells[!silent[as.character(cells$season)], ])
  annual <- polished_glm(y ~ 0 + unit + column + offset(log(n)), finite)
  kept <- levels(finite$column)
  gamma <- setNames(rep(-Inf, length(seasons)), seasons)
  gamma[kept] <- c(0, coef(annual)[paste0("column", kept[-1])])
  if (max(abs(gamma[kept])) > 12) stop("a season ran away: the table separates")
  se <- setNames(rep(NA, length(seasons)), seasons)
  se[kept[-1]] <- sqrt(diag(vcov(annual))[paste0("column", kept[-1])])
  index <- 100 * exp(gamma) / mean(exp(gamma[seq_len(baseline_length)]))
  for (season in as.character(seasons)) {
    put("annual", season, "log_ratio_to_first", gamma[season])
    if (!is.na(se[season])) put("annual", season, "se", se[season])
    put("annual", season, "index", index[season])
  }
  put("annual", "", "conditional_log_likelihood", conditional_log_likelihood(finite, fitted(annual)))
  # K of the intervals: clusters with a unit that has calls and was surveyed in two seasons or more.
  put("data", "", "informative_clusters", length(unique(cells$cluster[cells$unit %in% names(which(table(cells$unit) > 1))])))
  do.call(rbind, rows)
}
