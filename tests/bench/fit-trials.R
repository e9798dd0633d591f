# Every product of a trial table by nls (those it cannot fit from the one start are left out), the model of tests/bench/fit-trials.ts but without sites as chance: Rscript fit-trials.R FILE REFERENCE
args <- commandArgs(trailingOnly = TRUE)
plots <- read.csv(args[1])
plots$p <- plots$stand_plants_ac / 1000
plots$e <- plots$environment_bu_ac - as.numeric(args[2])
stands <- vapply(split(plots, plots$product), function(own) {
  fit <- tryCatch(nls(yield_bu_ac ~ top + slope * e - bend * (p - stand - moves * e)^2, own,
             start = list(top = mean(own$yield_bu_ac) + 5, slope = 1, bend = 0.1, stand = 30, moves = 0)), error = function(e) NULL)
  if (is.null(fit)) NA else summary(fit)$coefficients["stand", "Estimate"]
}, 0)
cat(sprintf('{"steps":{},"products":%d,"bestStand_k":%.6f}\n', sum(!is.na(stands)), mean(stands, na.rm = TRUE)))
