# Trend with a quadratic term by lme of nlme, apart from this project's own program; run: Rscript bent_trend.R > bent_trend.json
# z = source + b (x - x0) + c (x - x0)^2 + heat + e on madeup_suppliers_heats.csv, x the heat mean of hardness, x0 the centre weighted as in the straight line.
# "corrected": the same with x replaced by what it is expected to be given its reading, x0 + lambda (x - x0) (regression calibration).
suppressMessages({library(nlme); library(jsonlite)})
d <- read.csv("../made-up/madeup_suppliers_heats.csv")
d$z <- log(d$energy_j); d$x <- ave(d$hrc, d$heat)
tight <- lmeControl(tolerance = 1e-12, msTol = 1e-14, niterEM = 400, returnObject = TRUE)
line <- lme(z ~ 0 + supplier + x, random = ~ 1 | heat, data = d, method = "REML", control = tight)
variances <- function(f) as.numeric(VarCorr(f)[, "Variance"])
heats <- do.call(rbind, lapply(split(d, d$heat), function(h) data.frame(supplier = h$supplier[1], x = h$x[1], n = nrow(h))))
v <- variances(line); w <- 1 / (v[1] + v[2] / heats$n); W <- ave(w, heats$supplier, FUN = sum)
within <- sum((d$hrc - d$x)^2) / (nrow(d) - nrow(heats))
sxx <- 1 / vcov(line)["x", "x"]; u2 <- within / heats$n
lambda <- 1 - sum(w * u2 * (1 - w / W)) / sxx; ofLambda <- sum(w^2 * u2^2) / sxx^2
centre <- sum(w * heats$x) / sum(w)
bent <- function(scale) {
  d$t <- scale * (d$x - centre)
  f <- lme(z ~ 0 + supplier + t + I(t^2), random = ~ 1 | heat, data = d, method = "REML", control = tight)
  k <- fixef(f); V <- vcov(f); n <- length(k)
  list(slope = k[[n - 1]], slopeVariance = V[n - 1, n - 1], bend = k[[n]], bendVariance = V[n, n], covariance = V[n - 1, n], heatVariance = variances(f)[1], residualVariance = variances(f)[2])
}
cat(toJSON(list(what = "quadratic trend of ln energy on hardness, random heats, REML", data = "madeup_suppliers_heats.csv, made up", program = paste("nlme", packageVersion("nlme")),
  heats = nrow(heats), centre = centre, withinHeatVariance = within, withinHeatDf = nrow(d) - nrow(heats), lambda = lambda, varianceOfLambda = ofLambda, uncorrected = bent(1), corrected = bent(lambda)), auto_unbox = TRUE, digits = NA, pretty = TRUE))
