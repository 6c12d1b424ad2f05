# Two lots over one temper ladder, by R's lm: Rscript ladder.R > ladder.json. The readings are invented; R is the check.
suppressMessages(library(jsonlite))
alpha <- 0.05
judge <- function(d, margin = NULL, hrc = NULL) {
  d$level <- ave(d$hrc, d$heat, d$treatment)              # mean hardness of the level, not of the coupon
  d$z <- log(d$y); d$heat <- factor(d$heat)
  f <- lm(z ~ 0 + heat + level, d); g <- lm(z ~ 0 + heat + heat:level, d); p <- anova(f, g)
  heats <- levels(d$heat); cand <- heats %in% unique(as.character(d$heat[d$role == "candidate"]))
  w <- ifelse(cand, 1/sum(cand), -1/sum(!cand)); k <- c(w, 0)
  theta <- sum(k*coef(f)); se <- sqrt(drop(t(k) %*% vcov(f) %*% k)); nu <- f$df.residual
  b <- unname(coef(f)["level"]); seb <- sqrt(vcov(f)["level", "level"])
  x <- tapply(d$level, d$heat, mean); dH <- sum(w*x)
  wide <- theta + c(-1, 1)*qt(1 - alpha/2, nu)*se; narrow <- theta + c(-1, 1)*qt(1 - alpha, nu)*se
  r <- sapply(c("reference", "candidate"), function(q) range(d$level[d$role == q])); overlap <- c(max(r[1, ]), min(r[2, ]))
  o <- list(logRatio = theta, standardError = se, degreesOfFreedom = nu, wide = exp(wide), narrow = exp(narrow), pDifference = 2*pt(-abs(theta/se), nu), slope = b, slopeSe = seb,
    slopeInterval = b + c(-1, 1)*qt(.975, nu)*seb, residualSd = summary(f)$sigma, hardnessDifference = dH, parallelismF = p$F[2], parallelismDf = p$Res.Df[2], parallelismP = p$`Pr(>F)`[2], overlap = overlap)
  if (!is.null(margin)) o$pEquivalence <- max(pt(-(theta - log(margin[1]))/se, nu), pt(-(log(margin[2]) - theta)/se, nu))
  if (!is.null(hrc)) {                                     # theta + m and m - theta, m = c|b|: exact contrasts of the same fit
    kb <- c(rep(0, length(heats)), 1); q <- function(v) { e <- sum(v*coef(f)); s <- sqrt(drop(t(v) %*% vcov(f) %*% v)); list(estimate = e, standardError = s, p = pt(-e/s, nu)) }
    lo <- q(k - hrc*kb); up <- q(-hrc*kb - k); o$lower <- lo; o$upper <- up; o$pEquivalence <- max(lo$p, up$p) }
  at <- mean(overlap); ks <- c(w, w*at); o$ownLines <- sum(ks*coef(g)); o$ownLinesSe <- sqrt(drop(t(ks) %*% vcov(g) %*% ks))
  o
}
rows <- function(heat, role, treatment, hrc, y) data.frame(heat = heat, role = role, treatment = treatment, hrc = hrc, y = y)
ladder <- rbind(
  rows("K17", "reference", "180C", c(62.4, 62.1, 62.5, 62.3), c(27.1, 30.4, 24.8, 28.6)), rows("K17", "reference", "220C", c(60.9, 61.2, 61.0, 60.7), c(33.0, 29.9, 35.6, 31.7)), rows("K17", "reference", "260C", c(59.6, 59.3, 59.9, 59.5), c(38.2, 34.4, 36.9, 41.0)),
  rows("M03", "candidate", "180C", c(61.7, 61.9, 61.4, 61.8), c(29.5, 26.3, 31.8, 28.0)), rows("M03", "candidate", "220C", c(60.3, 60.1, 60.5, 60.0), c(32.8, 36.7, 30.2, 34.9)), rows("M03", "candidate", "260C", c(58.9, 59.1, 58.7, 58.6), c(40.6, 36.1, 43.8, 38.5)))
uneven <- ladder[-c(2, 7, 8, 14, 24), ]
crossed <- ladder; crossed$y[crossed$heat == "M03"] <- c(22.0, 20.1, 23.8, 21.2, 33.1, 35.9, 31.0, 34.2, 52.9, 48.0, 56.3, 50.1)
third <- rbind(ladder, rows("M04", "candidate", "180C", c(62.0, 62.2, 61.8), c(25.9, 28.4, 30.6)), rows("M04", "candidate", "220C", c(60.7, 60.6, 61.0), c(34.0, 30.8, 31.9)))
cases <- list(
  list(name = "ladder", margin = c(0.8, 1.25), rows = ladder, expected = judge(ladder, c(0.8, 1.25))),
  list(name = "uneven", margin = c(0.87, 1.15), rows = uneven, expected = judge(uneven, c(0.87, 1.15))),
  list(name = "lines that cross", margin = c(0.8, 1.25), rows = crossed, expected = judge(crossed, c(0.8, 1.25))),
  list(name = "two heats in a role", margin = c(0.8, 1.25), rows = third, expected = judge(third, c(0.8, 1.25))),
  list(name = "margin in hardness", hrc = 1.5, rows = ladder, expected = judge(ladder, hrc = 1.5)))
# A history of four heats over three levels each, and lots at one treatment: the slope that a rule may name, heat fixed, and theta - b dH with its parts (Satterthwaite).
history <- do.call(rbind, lapply(1:4, function(h) do.call(rbind, lapply(1:3, function(l) { x <- 63.2 - 1.4*l + 0.3*h + c(-0.2, 0.1, 0.3)[1:(2 + h %% 2)]
  data.frame(heat = paste0("H", h), treatment = paste0(140 + 40*l, "C"), hrc = round(x, 1), y = round(exp(3.4 + 0.05*h - 0.1*(x - 61) + 0.04*sin(7*h + 3*l + seq_along(x))), 1)) }))))
lots <- rbind(rows("K17", "reference", "220C", c(60.9, 61.2, 61.0, 60.7), c(33.0, 29.9, 35.6, 31.7)), rows("M03", "candidate", "220C", c(60.3, 60.1, 60.5, 60.0), c(32.8, 36.7, 30.2, 34.9)))
named <- local({
  g <- do.call(rbind, lapply(split(history, list(history$heat, history$treatment)), function(q) data.frame(heat = q$heat[1], z = mean(log(q$y)), x = mean(q$hrc), n = nrow(q))))
  f <- lm(z ~ heat + x, g, weights = n); b <- unname(coef(f)["x"]); seb <- sqrt(vcov(f)["x", "x"])
  ss <- sum(ave(history$hrc, history$heat, history$treatment, FUN = function(v) (v - mean(v))^2)) + sum(ave(lots$hrc, lots$heat, FUN = function(v) (v - mean(v))^2)); dfh <- nrow(history) - nrow(g) + nrow(lots) - 2
  C <- lots[lots$role == "candidate", ]; R <- lots[lots$role == "reference", ]; dH <- mean(C$hrc) - mean(R$hrc)
  part <- c(var(log(C$y))/nrow(C), var(log(R$y))/nrow(R), dH^2*seb^2, b^2*ss/dfh*(1/nrow(C) + 1/nrow(R))); nu <- c(nrow(C) - 1, nrow(R) - 1, f$df.residual, dfh)
  list(slope = b, slopeSe = seb, slopeDf = f$df.residual, logRatio = mean(log(C$y)) - mean(log(R$y)) - b*dH, standardError = sqrt(sum(part)), degreesOfFreedom = sum(part)^2/sum(part^2/nu)) })
cases <- c(cases, list(list(name = "named by the rule", margin = c(0.8, 1.25), rows = lots, history = history, expected = named)))
cat(toJSON(list(what = "two lots over one temper ladder, analysis of covariance on ln(energy)", method = paste("R", getRversion(), "lm, anova, vcov"), cases = cases), digits = I(15), auto_unbox = TRUE, pretty = TRUE), "\n")
