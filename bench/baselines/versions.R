v <- function(p) if (requireNamespace(p, quietly = TRUE)) paste(p, packageVersion(p)) else NULL
cat(sprintf('{"name":"R %s.%s, %s, BLAS %s","seconds":0}\n', R.version$major, R.version$minor, paste(c(v("lme4"), v("nlme"), v("boot"), v("metafor")), collapse = ", "), basename(extSoftVersion()["BLAS"])))
