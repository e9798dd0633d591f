# Regenerates the figures of distributions.ts: Rscript tests/reference/distributions.R
cat(sprintf("// R %s.%s\n", R.version$major, R.version$minor))
show <- function(name, rows) {
  cat(sprintf("export const %s: readonly (readonly number[])[] = [\n", name))
  for (row in rows) cat("  [", paste(format(row, digits = 15, trim = TRUE), collapse = ", "), "],\n", sep = "")
  cat("];\n")
}
show("PNORM", lapply(c(-30, -8, -4.5, -4, -3.9, -1.5, -.2, 0, .7, 1.96, 5), function(z) c(z, pnorm(z))))
show("QNORM", lapply(c(1e-200, 1e-20, 1e-5, .02, .025, .3, .5, .8, .975, .999), function(p) c(p, qnorm(p))))
dfs <- c(1, 2, 3, 4.5, 9, 30, 200, 1e4, 1e6)
ts <- c(-40, -4.0625, -1, 0, .3, 2.2, 12)
show("PT", do.call(c, lapply(dfs, function(df) lapply(ts, function(t) c(t, df, pt(t, df))))))
ps <- c(1e-6, .025, .4, .95, .975, .9999)
show("QT", do.call(c, lapply(dfs, function(df) lapply(ps, function(p) c(p, df, qt(p, df))))))
fs <- list(c(4.84375, 2, 27), c(.01, 1, 5), c(12.25, 1, 12), c(1.001, 300, 400), c(60, 3, 2.5),
  c(1.2, 4, 1e6), c(3, 1e6, 7), c(1.003, 1e5, 1e6))
show("PF", lapply(fs, function(f) c(f, pf(f[1], f[2], f[3], lower.tail = FALSE))))
# Beyond 4e5 degrees of freedom qf gives a quantile of chi-square in its place, of six digits.
qs <- list(c(.05, 1, 10), c(.05, 2, 27), c(.01, 6, 3), c(.1, 40, 1000), c(.9, 2, 2),
  c(.05, 3, 4e5), c(.025, 4e5, 9), c(.99, 1e4, 1e5), c(1e-8, 1, 30))
show("QF", lapply(qs, function(q) c(q, qf(q[1], q[2], q[3], lower.tail = FALSE))))
# The figures of plant-growth.test.ts
fit <- anova(lm(weight ~ group, PlantGrowth))
mse <- fit[2, 3]
cat(sprintf("// PlantGrowth: F %.12g p %.12g MSE %.12g LSD %s\n", fit[1, 4], fit[1, 5], mse,
  paste(sprintf("%.12g", qt(1 - c(.05, .1) / 2, 27) * sqrt(2 * mse / 10)), collapse = " ")))
