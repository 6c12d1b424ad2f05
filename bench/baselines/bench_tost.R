# the same in R (matrix form). usage: Rscript bench_tost.R
g <- function() { N <- 1e5; n <- 9; x <- matrix(rnorm(N*n, log(.97), .15), N); y <- matrix(rnorm(N*n, 0, .15), N); mx <- rowMeans(x); my <- rowMeans(y); v1 <- rowSums((x - mx)^2)/(n-1)/n; v2 <- rowSums((y - my)^2)/(n-1)/n
 se <- sqrt(v1 + v2); df <- (v1 + v2)^2/((v1^2 + v2^2)/(n-1)); q <- qt(.95, df); d <- mx - my; L <- log(1.25); mean((d + L)/se > q & (d - L)/se < -q) }
set.seed(3); p <- g(); s <- sapply(1:7, function(i) system.time(p <<- g())["elapsed"]); cat(sprintf('{"name":"R matrices","seconds":%.5f,"power":%.5f}\n', median(s), p))
