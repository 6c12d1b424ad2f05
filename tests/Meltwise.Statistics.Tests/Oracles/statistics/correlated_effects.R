# Makes correlated_effects.json: six invented log ratios, some sharing a lot. The restricted score is solved by uniroot; metafor::rma.mv agrees to 1e-6.
library(metafor); library(jsonlite)
y <- c(-0.12, 0.03, -0.21, -0.08, 0.05, -0.15); se <- c(0.06, 0.07, 0.05, 0.09, 0.06, 0.04)
V <- diag(se^2); V[1,2] <- V[2,1] <- 0.0018; V[3,4] <- V[4,3] <- 0.0012; V[1,5] <- V[5,1] <- 0.0015
proj <- function(t2) { W <- solve(V + diag(t2, 6)); W - W %*% matrix(1, 6, 6) %*% W / sum(W) }
score <- function(t2) { P <- proj(t2); as.numeric(t(y) %*% P %*% P %*% y) - sum(diag(P)) }
score0 <- function(t2) { W <- solve(V + diag(t2, 6)); as.numeric(t(y) %*% W %*% W %*% y) - sum(diag(W)) }
root <- function(f) uniroot(f, c(1e-6, 0.2), tol = 1e-16)$root
t2 <- root(score); W <- solve(V + diag(t2, 6)); mu <- sum(W %*% y) / sum(W); q <- as.numeric(t(y - mu) %*% W %*% (y - mu)) / 5
f <- rma.mv(y, V, random = ~ 1 | pair, data = data.frame(pair = 1:6), method = "REML")
stopifnot(abs(f$sigma2 / t2 - 1) < 1e-5, abs(c(f$beta) / mu - 1) < 1e-6)
# next comparison: the confidence distribution of tau^2 by 20000 quantiles of chi-squared, and the quantiles of the normal mixture
form <- function(t2) { W <- solve(V + diag(t2, 6)); m <- sum(W %*% y) / sum(W); c(m, sum(W), as.numeric(t(y - m) %*% W %*% (y - m))) }
c2 <- qchisq((seq_len(20000) - 0.5) / 20000, 5); q0 <- form(0)[3]
mix <- t(sapply(c2, function(c) { t2 <- if (q0 <= c) 0 else uniroot(function(x) form(x)[3] - c, c(0, 100), tol = 1e-10)$root; f <- form(t2); c(f[1], sqrt(t2 + 1 / f[2])) }))
limit <- function(p) uniroot(function(x) mean(pnorm((x - mix[,1]) / mix[,2])) - p, c(-20, 20), tol = 1e-12)$root
write(toJSON(list(made_up = TRUE, y = y, V = V, tau2 = t2, mean = mu, weight = sum(W), q = q, tau2AboutZero = root(score0), nextLower = limit(0.025), nextUpper = limit(0.975)), digits = I(15), auto_unbox = TRUE, pretty = TRUE), "correlated_effects.json")
