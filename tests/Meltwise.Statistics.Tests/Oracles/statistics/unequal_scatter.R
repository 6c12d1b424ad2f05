# Makes unequal_scatter.json with nlme: six invented heats at three tempers, scatter a power of the mean, heats random.
library(nlme); library(jsonlite)
d <- data.frame(heat = rep(c("A","B","C","D","E","F"), each = 12), temper = rep(rep(c("T1","T2","T3"), each = 4), 6),
  y = c(20.1,18.6,21.7,22.4,35.2,41.8,38.9,33.1,61.2,78.4,70.9,55.3, 24.4,23.1,26.0,21.9,44.7,38.2,47.9,40.3,80.1,66.2,91.7,74.5,
        17.8,19.5,16.9,20.2,30.6,36.9,28.4,34.8,52.7,64.1,71.3,49.8, 22.3,25.2,20.7,23.8,46.1,37.4,41.0,50.2,69.8,88.3,77.1,60.4,
        19.2,21.4,22.9,18.3,39.7,31.5,35.6,42.2,58.9,73.6,66.0,81.2, 26.2,23.9,24.6,27.5,48.8,43.0,52.1,39.9,84.6,96.3,71.8,78.7))
ctl <- lmeControl(tolerance = 1e-10, msTol = 1e-12, niterEM = 100, maxIter = 500, msMaxIter = 500, opt = "nlminb")
take <- function(f) { v <- VarCorr(f); list(fixed = as.numeric(fixef(f)), se = as.numeric(sqrt(diag(vcov(f)))), sdHeat = as.numeric(v[1, 2]), sigma = f$sigma, scatter = as.numeric(coef(f$modelStruct$varStruct, unconstrained = FALSE)), loglik = as.numeric(logLik(f))) }
fitted <- lme(y ~ temper, random = ~1 | heat, weights = varPower(), data = d, control = ctl)
d$m <- ave(d$y, d$temper); given <- lme(y ~ temper, random = ~1 | heat, weights = varPower(form = ~m), data = d, control = ctl)
group <- lme(y ~ temper, random = ~1 | heat, weights = varIdent(form = ~1 | temper), data = d, control = ctl)
groupML <- lme(y ~ temper, random = ~1 | heat, weights = varIdent(form = ~1 | temper), data = d, control = ctl, method = "ML")
write(toJSON(list(made_up = TRUE, heat = d$heat, temper = d$temper, y = d$y, mean = d$m, powerOfFitted = take(fitted), powerOfGiven = take(given), byGroup = take(group), byGroupFull = take(groupML)), digits = I(15), auto_unbox = TRUE), "unequal_scatter.json")
