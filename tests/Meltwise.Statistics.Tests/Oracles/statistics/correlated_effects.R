# Makes correlated_effects.json and next_pair.json. Invented log ratios, some sharing a lot. The restricted score is solved by uniroot; metafor::rma.mv agrees to 1e-6.
# Next comparison: posterior of tau^2 under the reference prior sqrt(tr W^2) by adaptive quadrature of dense matrices (integrate), quantiles of the predictive distribution by uniroot.
library(metafor); library(jsonlite)
next_limits <- function(y, V) {
  k <- length(y); one <- rep(1, k); scale <- mean(diag(V))
  at <- function(t2) { S <- V + diag(t2, k); W <- solve(S); m <- sum(W %*% y) / sum(W); c(m, sum(W), as.numeric(t(y - m) %*% W %*% (y - m)), as.numeric(determinant(S)$modulus), sum(W * W)) }
  dens <- function(l) { t2 <- exp(l); a <- at(t2); 0.5 * log(a[5]) - 0.5 * a[4] - 0.5 * log(a[2]) - 0.5 * a[3] + l }
  l <- seq(log(scale) - 40, log(scale) + 60, by = 0.05); top <- max(sapply(l, dens)); mid <- l[which.max(sapply(l, dens))]
  pieces <- mid + c(-40, -8, -2, 0, 2, 8, 20, 60)
  over <- function(f) sum(sapply(seq_len(length(pieces) - 1), function(i) integrate(Vectorize(f), pieces[i], pieces[i + 1], rel.tol = 1e-11, abs.tol = 1e-14, subdivisions = 2000)$value))
  total <- over(function(l) exp(dens(l) - top))
  cdf <- function(x) over(function(l) { a <- at(exp(l)); exp(dens(l) - top) * pnorm((x - a[1]) / sqrt(exp(l) + 1 / a[2])) }) / total
  sapply(c(0.025, 0.975), function(p) uniroot(function(x) cdf(x) - p, c(-3, 3), tol = 1e-11)$root)
}
y <- c(-0.12, 0.03, -0.21, -0.08, 0.05, -0.15); se <- c(0.06, 0.07, 0.05, 0.09, 0.06, 0.04)
V <- diag(se^2); V[1,2] <- V[2,1] <- 0.0018; V[3,4] <- V[4,3] <- 0.0012; V[1,5] <- V[5,1] <- 0.0015
proj <- function(t2) { W <- solve(V + diag(t2, 6)); W - W %*% matrix(1, 6, 6) %*% W / sum(W) }
score <- function(t2) { P <- proj(t2); as.numeric(t(y) %*% P %*% P %*% y) - sum(diag(P)) }
score0 <- function(t2) { W <- solve(V + diag(t2, 6)); as.numeric(t(y) %*% W %*% W %*% y) - sum(diag(W)) }
root <- function(f) uniroot(f, c(1e-6, 0.2), tol = 1e-16)$root
t2 <- root(score); W <- solve(V + diag(t2, 6)); mu <- sum(W %*% y) / sum(W); q <- as.numeric(t(y - mu) %*% W %*% (y - mu)) / 5
f <- rma.mv(y, V, random = ~ 1 | pair, data = data.frame(pair = 1:6), method = "REML")
stopifnot(abs(f$sigma2 / t2 - 1) < 1e-5, abs(c(f$beta) / mu - 1) < 1e-6)
lim <- next_limits(y, V)
write(toJSON(list(made_up = TRUE, y = y, V = V, tau2 = t2, mean = mu, weight = sum(W), q = q, tau2AboutZero = root(score0), nextLower = lim[1], nextUpper = lim[2]), digits = I(15), auto_unbox = TRUE, pretty = TRUE), "correlated_effects.json")
cases <- list(
  `five pairs, the fifth the verdict's own` = list(y = c(-0.02, 0.15, -0.21, 0.05, 0.0261959577995), v = c(0.004, 0.004, 0.004, 0.004, 0.0542212725928^2)),
  `three alike` = list(y = c(0.001, -0.002, 0.0012), v = c(0.0025, 0.0016, 0.0036)),
  `five alike` = list(y = c(0.001, -0.002, 0, 0.002, -0.001), v = rep(0.0025, 5)),
  `seven far apart` = list(y = c(-0.6, 0.4, 0.9, -1.1, 0.2, 0.0, 0.5), v = c(0.001, 0.002, 0.0015, 0.001, 0.003, 0.002, 0.001)),
  `sampling errors negligible` = list(y = c(-0.31, 0.12, 0.05, 0.27), v = rep(1e-8, 4)))
out <- lapply(cases, function(c) { l <- next_limits(c$y, diag(c$v)); list(y = c$y, v = c$v, lower = l[1], upper = l[2]) })
write(toJSON(list(made_up = TRUE, cases = out), digits = I(15), auto_unbox = TRUE, pretty = TRUE), "next_pair.json")
