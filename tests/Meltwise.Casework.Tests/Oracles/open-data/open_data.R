# Welch's test, the two one-sided tests and the arithmetic difference by R's own t.test, for OpenDataTests.cs.
# usage: Rscript open_data.R ../../Published/open-data > open_data.json
dir <- commandArgs(TRUE)[1]
charpy <- read.csv(file.path(dir, "charpy_36_96.csv")); plants <- read.csv(file.path(dir, "plantgrowth.csv")); sleep <- read.csv(file.path(dir, "sleep.csv"))
one <- function(name, x, y, log, low, high) {
  a <- if (log) base::log(x) else x; b <- if (log) base::log(y) else y; back <- if (log) exp else identity; lo <- if (log) base::log(low) else low; hi <- if (log) base::log(high) else high
  w <- t.test(a, b); n <- t.test(a, b, conf.level = .9)
  p <- max(t.test(a, b, mu = lo, alternative = "greater")$p.value, t.test(a, b, mu = hi, alternative = "less")$p.value)
  raw <- t.test(x, y)
  list(name = name, nCandidate = length(x), nReference = length(y), estimate = back(unname(w$estimate[1] - w$estimate[2])), standardError = w$stderr, degreesOfFreedom = unname(w$parameter),
       wide = back(as.numeric(w$conf.int)), narrow = back(as.numeric(n$conf.int)), pDifference = w$p.value, pEquivalence = p,
       difference = c(unname(raw$estimate[1] - raw$estimate[2]), as.numeric(raw$conf.int)), scatterRatio = sqrt(unname(var.test(a, b)$estimate)), scatterInterval = sqrt(as.numeric(var.test(a, b)$conf.int))) }
out <- list(what = "two groups compared by an independent program", method = paste("R", getRversion(), "stats::t.test and var.test"), sets = list(
  one("charpy", charpy$energy_j[charpy$series == 96], charpy$energy_j[charpy$series == 36], TRUE, .8, 1.25),
  one("plantgrowth", plants$weight[plants$group == "trt2"], plants$weight[plants$group == "ctrl"], TRUE, .8, 1.25),
  one("sleep", sleep$extra[sleep$group == 2], sleep$extra[sleep$group == 1], FALSE, -3, 3)))
cat(jsonlite::toJSON(out, auto_unbox = TRUE, digits = I(15), pretty = TRUE), "\n")
