# Several properties of two lots, by R's t.test and p.adjust: Rscript several_properties.R > several_properties.json. The readings are invented; R is the check.
suppressMessages(library(jsonlite))
energy <- list(R = c(40.1, 44.0, 37.5, 42.2, 39.0, 41.3, 43.2, 38.4), C = c(39.5, 43.1, 36.8, 40.9, 42.6, 38.4, 41.8, 40.2))
hrc <- list(R = c(61.8, 62.1, 61.6, 62.0, 61.9, 62.2, 61.7, 61.9), C = c(61.5, 61.6, 61.3, 61.8, 61.4, 61.7, 61.6, 61.2))
wear <- list(R = c(18.2, 19.9, 17.4, 18.8, 20.1, 17.9, 19.2, 18.5), C = c(24.9, 27.3, 25.8, 23.6, 26.4, 25.1, 28.0, 24.2))
austenite <- list(R = c(7.1, 6.4, 7.9, 6.8, 7.4, 6.9, 7.2, 6.6), C = c(7.9, 7.2, 8.3, 7.6, 8.1, 7.0, 8.4, 7.5))
size <- list(R = c(1.31, 1.28, 1.35, 1.22, 1.30, 1.27, 1.33, 1.25), C = c(1.29, 1.33, 1.24, 1.36, 1.30, 1.27, 1.31, 1.35))
one <- function(p, log, m) { f <- if (log) base::log else identity; t <- t.test(f(p$C), f(p$R)); se <- t$stderr; nu <- unname(t$parameter); e <- unname(t$estimate[1] - t$estimate[2]); m <- if (log) base::log(m) else m
  list(pDifference = t$p.value, pEquivalence = max(pt(-(e - m[1])/se, nu), pt(-(m[2] - e)/se, nu))) }
p <- list("impact energy" = one(energy, TRUE, c(0.8, 1.25)), hardness = one(hrc, FALSE, c(-1, 1)), "wear loss" = one(wear, TRUE, c(0.85, 1.18)))
s <- list("retained austenite" = one(austenite, FALSE, c(-2, 2)), "carbide size" = one(size, TRUE, c(0.9, 1.1)))
holm <- function(x) as.list(p.adjust(sapply(x, function(v) v$pDifference), "holm"))
data <- function(p) lapply(p, function(v) list(reference = v$R, candidate = v$C))
cat(toJSON(list(what = "five properties of two lots", method = paste("R", getRversion(), "t.test (Welch), p.adjust"), readings = data(list("impact energy" = energy, hardness = hrc, "wear loss" = wear, "retained austenite" = austenite, "carbide size" = size)),
  primaries = p, secondaries = s, holmOfTwo = holm(p[1:2]), holmOfThree = holm(p), holmOfSecondaries = holm(s)), digits = I(15), auto_unbox = TRUE, pretty = TRUE), "\n")
