# The figures of tests/reference/fits.test.ts and of the lineup in tests/sample-fields.test.ts, from R's lme4, nlme and nls on the sample trials: Rscript tests/reference/fits.R sample-fields/trials.csv
# Last run with R 4.2.2, lme4 1.1-31, nlme 3.1-162.
suppressMessages({
  library(lme4)
  library(nlme)
})
trials <- read.csv(commandArgs(trailingOnly = TRUE)[1])
trials <- trials[!is.na(trials$yield_bu_ac), ]
show <- function(name, ...) cat(sprintf("%-42s", name), formatC(c(...), digits = 9, format = "g"), "\n")
of <- function(name, reference) {
  d <- trials[trials$product == name, ]
  data.frame(site = d$site, e = d$environment_bu_ac - reference, p = d$population_plants_ac / 1000, y = d$yield_bu_ac)
}
quadratic <- function(f, d) f[1] + f[2] * d$e - f[5] * (d$p - f[3] - f[4] * d$e)^2
decay <- function(f, d) {
  s <- f[3] + f[4] * d$e
  (f[1] + f[2] * d$e) * d$p / s * exp(1 - d$p / s)
}
reciprocal <- function(f, d) {
  s <- f[3] + f[4] * d$e
  (f[1] + f[2] * d$e) / (1 + f[5] * (s / d$p + d$p / s - 2))
}
plane <- function(curve, f, d) sapply(seq_along(f), function(k) {
  h <- 1e-5 * max(abs(f[k]), 1e-3)
  up <- down <- f
  up[k] <- f[k] + h
  down[k] <- f[k] - h
  (curve(up, d) - curve(down, d)) / (2 * h)
})
# Lindstrom & Bates: the curve as a plane at its figures, lmer's restricted likelihood for the plane, again until nothing moves.
restricted <- function(name, curve, f, d) {
  for (round in 1:60) {
    x <- plane(curve, f, d)
    z <- d$y - curve(f, d)
    wide <- apply(abs(x), 2, max)
    x <- sweep(x, 2, wide, "/")
    fit <- suppressWarnings(lmer(z ~ 0 + x + (1 | site), list(z = z, x = x, site = factor(d$site)), control = lmerControl(
      optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10), check.rankX = "ignore", calc.derivs = FALSE
    )))
    f <- f + fixef(fit) / wide
  }
  show(paste(name, "figures"), f)
  show(paste(name, "standard errors"), sqrt(diag(as.matrix(vcov(fit)))) / wide)
  show(paste(name, "sd of sites, plots"), as.data.frame(VarCorr(fit))$sdcor)
  f
}
full <- function(name, model, d, start) {
  fit <- nlme(model, d, fixed = L + l + s + t + b ~ 1, random = L ~ 1 | site,
    start = start, method = "ML", control = nlmeControl(tolerance = 1e-9, msTol = 1e-12, maxIter = 200, msMaxIter = 500, returnObject = TRUE))
  show(paste(name, "-2 log likelihood"), -2 * as.numeric(logLik(fit)))
}
sora <- of("Sora 105", 200)
wren <- of("Wren 24", 58)
invisible({
  restricted("Sora quadratic", quadratic, c(193, 0.95, 30.5, 0.02, 0.15), sora)
  restricted("Wren quadratic", quadratic, c(57.3, 0.88, 127, -0.97, 0.00087), wren)
  restricted("Sora decay", decay, c(191, 0.97, 29.5, 0.03), sora)
  restricted("Sora reciprocal", reciprocal, c(193, 0.98, 29, 0.02, 0.67), sora)
})
# As the lineup has them, where it states its figures.
invisible({
  restricted("Plover quadratic", quadratic, c(194, 0.91, 31.5, 0.03, 0.16), of("Plover 108", 195))
  restricted("Bittern quadratic", quadratic, c(204, 1.1, 36, 0.04, 0.13), of("Bittern 112", 195))
  restricted("Whinchat quadratic", quadratic, c(60, 1, 118, -1, 0.0011), of("Whinchat 26", 60))
})
full("Sora quadratic", y ~ L + l * e - b * (p - s - t * e)^2, sora, c(L = 193, l = 0.95, s = 30.5, t = 0.02, b = 0.15))
full("Wren quadratic", y ~ L + l * e - b * (p - s - t * e)^2, wren, c(L = 57.3, l = 0.88, s = 127, t = -0.97, b = 0.00087))
# Random effects enter the level, which scales the curve: as an added figure instead they are ours.
shared <- function(name, curve, f, d) {
  # -2 log likelihood of the plane at its own best figures, by lmer in full.
  for (round in 1:60) {
    x <- plane(curve, f, d)
    z <- d$y - curve(f, d)
    wide <- apply(abs(x), 2, max)
    x <- sweep(x, 2, wide, "/")
    fit <- suppressWarnings(lmer(z ~ 0 + x + (1 | site), list(z = z, x = x, site = factor(d$site)), REML = FALSE, control = lmerControl(
      optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10), check.rankX = "ignore", calc.derivs = FALSE
    )))
    f <- f + fixef(fit) / wide
  }
  show(paste(name, "-2 log likelihood"), -2 * as.numeric(logLik(fit)))
}
shared("Sora decay", decay, c(191, 0.97, 29.5, 0.03), sora)
shared("Sora reciprocal", reciprocal, c(193, 0.98, 29, 0.02, 0.67), sora)
# Without sites: nls.
squares <- nls(y ~ L + l * e - b * (p - s - t * e)^2, sora, c(L = 193, l = 0.95, s = 30.5, t = 0.02, b = 0.15), control = nls.control(tol = 1e-7))
show("Sora by nls", coef(squares))
show("Sora by nls, standard errors, sd", summary(squares)$coefficients[, 2], summary(squares)$sigma)
