# metafor REML + Hartung-Knapp, 200 studies (20 fits timed together, seven times). usage: Rscript bench_meta.R FOLDER
suppressMessages(library(metafor)); d <- read.csv(file.path(commandArgs(TRUE)[1], "meta200.csv")); f <- rma(yi, vi, data = d, test = "knha"); t <- median(sapply(1:7, function(k) system.time(for (i in 1:20) f <- rma(yi, vi, data = d, test = "knha"))["elapsed"]/20))
cat(sprintf('{"name":"metafor","seconds":%.6f,"tau2":%.9f,"estimate":%.9f,"se_hk":%.9f}\n', t, f$tau2, f$beta[1], f$se))
