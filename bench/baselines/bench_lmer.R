# REML mixed model, 5000 coupons / 400 heats / 12 suppliers. usage: Rscript bench_lmer.R FOLDER
suppressMessages(library(lme4)); D <- commandArgs(TRUE)[1]; d <- read.csv(file.path(D, "coupons5000.csv")); d$ly <- log(d$energy_j); d$h <- d$hrc - 60
f <- lmer(ly ~ h + (1|supplier) + (1|heat), d); s <- sapply(1:7, function(i) system.time(f <<- lmer(ly ~ h + (1|supplier) + (1|heat), d))["elapsed"]); v <- as.data.frame(VarCorr(f))
cat(sprintf('{"name":"lme4","seconds":%.5f,"sd_heat":%.8f,"sd_supplier":%.8f,"sd_resid":%.8f,"hrc_slope":%.9f,"reml_criterion":%.6f}\n', median(s), v$sdcor[v$grp=="heat"], v$sdcor[v$grp=="supplier"], sigma(f), fixef(f)[2], -2*logLik(f)))
