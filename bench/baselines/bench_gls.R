# gls with variance as a power of the mean, 2000 coupons. usage: Rscript bench_gls.R FOLDER
suppressMessages(library(nlme)); D <- commandArgs(TRUE)[1]; d <- read.csv(file.path(D, "gls2000.csv")); g <- function() gls(energy_j ~ heat + condition + hrc, d, weights = varPower(form = ~fitted(.)))
f <- g(); s <- sapply(1:7, function(i) system.time(f <<- g())["elapsed"])
cat(sprintf('{"name":"nlme gls","seconds":%.5f,"power":%.6f,"heat_B":%.6f,"se_heat_B":%.6f,"loglik":%.4f}\n', median(s), coef(f$modelStruct$varStruct), coef(f)[2], sqrt(vcov(f)[2,2]), logLik(f)))
