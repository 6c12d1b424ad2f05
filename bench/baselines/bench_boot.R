# BCa bootstrap, 10000 replicates, difference of mean logs, 9 + 9. usage: Rscript bench_boot.R FOLDER
suppressMessages(library(boot)); D <- commandArgs(TRUE)[1]; d <- read.csv(file.path(D, "two9.csv")); l <- log(d$energy_j); st <- function(x, i) { x <- x[i]; sum(x[1:9])/9 - sum(x[10:18])/9 }; set.seed(1)
g <- function() boot.ci(boot(l, st, 10000, strata = factor(d$heat)), type = "bca"); ci <- g(); s <- sapply(1:7, function(i) system.time(ci <<- g())["elapsed"])
cat(sprintf('{"name":"R boot","seconds":%.5f,"lo":%.5f,"hi":%.5f}\n', median(s), ci$bca[4], ci$bca[5]))
