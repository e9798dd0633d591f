# The figures of tests/reference/{finlay-wilkinson,head-to-head,standings}.test.ts, from R's lm and t.test and from lme4:
# Rscript tests/reference/trials.R ../shared/data/trials
# Last run with R 4.2.2.
folder <- commandArgs(trailingOnly = TRUE)[1]
show <- function(name, ...) cat(sprintf("%-34s", name), formatC(c(...), digits = 12, format = "g"), "\n")
trial <- function(file) read.csv(file.path(folder, file))

# Finlay & Wilkinson: site means of a product on the mean of all products there.
answer <- function(d, k, of = "all") {
  gen <- unique(d$gen)[k]
  name <- deparse(substitute(d))
  own <- d[d$gen == gen, ]
  index <- if (of == "all") tapply(d$yield, d$site, mean) else with(d[d$gen != gen, ], tapply(yield, site, mean))
  center <- mean(tapply(d$yield, d$site, mean))
  fit <- lm(own$yield ~ I(index[as.character(own$site)] - center))
  ci <- confint(fit)
  lead <- function(e) {
    at <- data.frame(e = e)
    line <- lm(yield ~ e, data.frame(yield = own$yield, e = as.numeric(index[as.character(own$site)])))
    predict(line, at, interval = "confidence") - e
  }
  show(paste(name, k, of, "level, interval"), coef(fit)[1], ci[1, ])
  show(paste(name, k, of, "slope, interval"), coef(fit)[2], ci[2, ])
  show(paste(name, k, of, "deviation mean square, df"), sum(resid(fit)^2) / df.residual(fit), df.residual(fit))
  environments <- sort(tapply(d$yield, d$site, mean))
  third <- round(length(environments) / 3)
  show(paste(name, k, of, "lead on tough"), lead(mean(head(environments, third))))
  show(paste(name, k, of, "lead on good"), lead(mean(tail(environments, third))))
}
kang <- trial("kang.maize.csv")
kang$site <- kang$env
# Products by their place in the file.
for (k in c(1, 9, 17)) answer(kang, k)
answer(kang, 1, "others")
ars <- trial("ars.earlywhitecorn96.csv")
ars$site <- ars$loc
for (k in c(1, 37, 60)) answer(ars, k)
slopes <- sapply(unique(ars$gen), function(gen) {
  index <- tapply(ars$yield, ars$site, mean)
  own <- ars[ars$gen == gen, ]
  fit <- lm(own$yield ~ index[as.character(own$site)])
  ci <- confint(fit)[2, ]
  c(ci[1] > 1, ci[2] < 1, coef(fit)[2])
})
show("ars slopes over, under 1, mean", sum(slopes[1, ]), sum(slopes[2, ]), mean(slopes[3, ]))

# Head to head: paired t of site means.
gauch <- trial("gauch.soy.csv")
means <- tapply(gauch$yield, list(gauch$env, gauch$gen), mean)
pair <- function(name, a, b) {
  d <- (a - b)[!is.na(a - b)]
  test <- t.test(d)
  show(paste(name, "n mean interval sd t"), length(d), mean(d), test$conf.int, sd(d), test$statistic)
  show(paste(name, "won lost"), sum(d > 0.05), sum(d < -0.05))
  sites <- 2:1e5
  enough <- sites >= (qt(0.975, sites - 1) * sd(d) / abs(mean(d)))^2
  show(paste(name, "sites in all"), min(sites[enough]))
}
pair("Evan - Wilk", means[, "Evan"], means[, "Wilk"])
pair("Evan - Hodg", means[, "Evan"], means[, "Hodg"])
pair("Well - Wilk", means[, "Well"], means[, "Wilk"])
pair("Well - rest", means[, "Well"], rowMeans(means[, colnames(means) != "Well"], na.rm = TRUE))
environment <- rowMeans(means)
show("gauch cells missing", sum(is.na(means)))
# Where a product is missing the mean of the others is no environment.
d <- (means[, "Evan"] - means[, "Wilk"])[order(environment)]
d <- d[1:sum(!is.na(environment))]
half <- floor(length(d) / 2)
show("Evan - Wilk poorer half", t.test(head(d, half))$estimate, t.test(head(d, half))$conf.int)
show("Evan - Wilk better half", t.test(tail(d, half))$estimate, t.test(tail(d, half))$conf.int)
show("sleep p", t.test(sleep$extra[1:10] - sleep$extra[11:20])$p.value)

# Normals of temperature by day, linear between the middles of months.
high <- c(31, 36, 49, 62, 73, 82, 85, 83, 76, 63, 48, 35)
low <- c(14, 19, 29, 40, 52, 62, 66, 64, 54, 42, 30, 19)
days <- c(31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
middle <- cumsum(days) - days / 2
daily <- function(v) approx(c(middle[12] - 365, middle, middle[1] + 365), c(v[12], v, v[1]), 1:365 - 0.5)$y
held <- function(t) pmin(pmax(t, 50), 86)
degrees <- (held(daily(high)) + held(daily(low))) / 2 - 50
start <- cumsum(days) - days
show("degree days of the year", sum(degrees))
planted <- start[5] + 31
freeze <- start[10] + 10
show("31 May to 10 October", sum(degrees[planted:(freeze - 1)]))
reached <- cumsum(degrees[planted:365])
show("day of the year of 2,496", planted + min(which(reached >= 2496)) - 1)
show("single days 1, 100, 121, 200, 365", degrees[c(1, 100, 121, 200, 365)])

# Standings: least-squares means of product + site on cells, weighted by what varies between sites (Paule & Mandel) and within; then lme4's mixed model of the plots, which estimates both by REML.
standings <- function(d, name) {
  cell <- aggregate(yield ~ gen + env, d, mean)
  cell$n <- aggregate(yield ~ gen + env, d, length)$yield
  cell$gen <- factor(cell$gen)
  repeated <- nrow(d) > nrow(cell)
  within <- if (repeated) sum((d$yield - ave(d$yield, d$gen, d$env))^2) / (nrow(d) - nrow(cell)) else 0
  fit <- function(between) {
    cell$w <<- 1 / (between + within / cell$n)
    lm(yield ~ gen + env, cell, weights = w)
  }
  left <- function(between) {
    m <- fit(between)
    sum(cell$w * resid(m)^2) - df.residual(m)
  }
  between <- if (repeated) uniroot(left, c(0, 1e7), tol = 1e-9)$root else summary(fit(1))$sigma^2
  m <- fit(between)
  contrasts <- function(n) {
    k <- nlevels(cell$gen)
    l <- matrix(0, k, n)
    l[cbind(2:k, 2:k)] <- 1
    sweep(l, 2, colMeans(l))
  }
  l <- contrasts(length(coef(m)))
  covariance <- solve(crossprod(model.matrix(m) * sqrt(cell$w)))
  se <- sqrt(diag(l %*% covariance %*% t(l)))
  lead <- drop(l %*% coef(m))
  show(paste(name, "between within df"), sqrt(between), sqrt(within), df.residual(m))
  for (k in seq_along(lead))
    show(paste(name, levels(cell$gen)[k], "lead se low"), lead[k], se[k], lead[k] - qt(0.975, df.residual(m)) * se[k])
  if (!repeated) return(invisible())
  mixed <- lme4::lmer(yield ~ gen + env + (1 | gen:env), d)
  l <- contrasts(length(lme4::fixef(mixed)))
  show(paste(name, "lme4 leads"), drop(l %*% lme4::fixef(mixed)))
  show(paste(name, "lme4 standard errors"), sqrt(diag(l %*% as.matrix(vcov(mixed)) %*% t(l))))
}
standings(gauch, "gauch")
# With holes: the two best are kept out of every second site by name.
sites <- sort(unique(gauch$env))
standings(subset(gauch, !(gen %in% c("Evan", "Hodg") & env %in% sites[seq(2, 55, 2)])), "gauch holes")
gauch1 <- subset(gauch, rep == "R1")
standings(gauch1, "gauch first repetition")
