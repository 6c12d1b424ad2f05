# Scatter between groups inside blocks, from published data: components from R's aov() table, interval by qf() and qchisq().
# Run in tests/Meltwise.Statistics.Tests: Rscript Oracles/session-scatter/session_scatter.R > Oracles/session-scatter/session_scatter.json
read <- function(file) read.csv(file.path("Published/datasets", file), stringsAsFactors = TRUE)

from_table <- function(table, n, row) {
  ms <- table[["Mean Sq"]]; df <- table[["Df"]]; names(ms) <- names(df) <- trimws(rownames(table))
  a <- ms[[row]]; e <- ms[["Residuals"]]; v <- df[[row]]; w <- df[["Residuals"]]
  component <- max(0, (a - e) / n)
  limit <- function(p) max(0, v * a * (1 - qf(p, v, w) / (a / e)) / (n * qchisq(p, v)))
  c(sd = sqrt(component), lower = sqrt(limit(0.975)), upper = sqrt(limit(0.025)),
    df = if (component > 0) component^2 / ((a / n)^2 / v + (e / n)^2 / w) else 0, repeatability = sqrt(e), ofMeans = sqrt(a / n), sessionDf = v)
}

# Unequal numbers: unweighted means (Thomas and Hultquist 1978); the whole pastes less rows 2, 7, 8 and 31.
unweighted <- function(y, block, session) {
  means <- tapply(y, session, mean); n <- tapply(y, session, length); of <- tapply(as.character(block), session, function(b) b[1])
  e <- sum(sapply(split(y, session), function(v) sum((v - mean(v))^2))); w <- sum(n - 1)
  v <- sum(sapply(split(means, of), length) - 1)
  s2 <- sum(sapply(split(means, of), function(m) sum((m - mean(m))^2))) / v
  c_ <- sum(sapply(split(1 / n, of), function(i) sum(i) * (1 - 1 / length(i)))) / v
  e <- e / w; component <- max(0, s2 - c_ * e)
  limit <- function(p) max(0, v * (s2 - c_ * e * qf(p, v, w)) / qchisq(p, v))
  c(sd = sqrt(component), lower = sqrt(limit(0.975)), upper = sqrt(limit(0.025)), df = component^2 / (s2^2 / v + c_^2 * e^2 / w), repeatability = sqrt(e), ofMeans = sqrt(s2), sessionDf = v)
}

one <- function(file, y, g) { d <- read(file); d$g <- factor(d[[g]]); d$y <- d[[y]]; from_table(summary(aov(y ~ g, d))[[1]], nrow(d) / nlevels(d$g), "g") }
pastes <- read("pastes.csv")
part <- droplevels(pastes[-c(2, 7, 8, 31), ])
cases <- list(dyestuff = one("dyestuff.csv", "Yield", "Batch"), dyestuff2 = one("dyestuff2.csv", "Yield", "Batch"), rail = one("rail.csv", "travel", "Rail"),
              pastes = from_table(summary(aov(strength ~ batch + batch:cask, pastes))[[1]], 2, "batch:cask"),
              pastes_unequal = unweighted(part$strength, part$batch, part$sample))
cat("{\n", paste(sapply(names(cases), function(k) sprintf("  \"%s\": { %s }", k, paste(sprintf("\"%s\": %.15g", names(cases[[k]]), cases[[k]]), collapse = ", "))), collapse = ",\n"), "\n}\n", sep = "")
