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
fs <- list(c(4.84375, 2, 27), c(.01, 1, 5), c(12.25, 1, 12), c(1.001, 300, 400), c(60, 3, 2.5))
show("PF", lapply(fs, function(f) c(f, pf(f[1], f[2], f[3], lower.tail = FALSE))))
qs <- list(c(.05, 1, 10), c(.05, 2, 27), c(.01, 6, 3), c(.1, 40, 1000), c(.9, 2, 2))
show("QF", lapply(qs, function(q) c(q, qf(q[1], q[2], q[3], lower.tail = FALSE))))
