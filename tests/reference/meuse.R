# The figures of tests/reference/kriging.test.ts, from R's gstat: Rscript tests/reference/meuse.R
# Last run with R 4.2.2, gstat 2.1.0, sp 1.6.0.
suppressMessages({
  library(sp)
  library(gstat)
})
cat(R.version.string, "gstat", format(packageVersion("gstat")), "sp", format(packageVersion("sp")), "\n")
options(width = 200)
show <- function(name, ...) cat(sprintf("%-28s", name), formatC(c(...), digits = 12, format = "g"), "\n")

data(meuse)
data(meuse.grid)
coordinates(meuse) <- ~ x + y
coordinates(meuse.grid) <- ~ x + y
meuse$lz <- log(meuse$zinc)

lags <- variogram(lz ~ 1, meuse)
show("pairs", lags$np)
show("distance", lags$dist)
show("gamma", lags$gamma)
for (family in c("Sph", "Exp")) {
  fit <- fit.variogram(lags, vgm(1, family, if (family == "Sph") 900 else 300, 1))
  show(paste("fit", family, "nug psill range sse"), fit$psill, fit$range[2], attr(fit, "SSErr"))
  assign(family, fit)
}

# The spherical fit as the tests state it: no fit of either side is carried into the kriging.
logs <- vgm(0.59060780221, "Sph", 897.0209098, nugget = 0.05066242682)
field <- krige(lz ~ 1, meuse, meuse.grid, logs, debug.level = 0)
z <- field$var1.pred
v <- field$var1.var
show("grid estimate", min(z), mean(z), max(z))
show("grid variance", min(v), mean(v), max(v))
show("grid first cell", z[1], v[1])
loo <- krige.cv(lz ~ 1, meuse, logs, verbose = FALSE, debug.level = 0)
show("leave one out", mean(loo$residual), sqrt(mean(loo$residual^2)), mean(loo$zscore^2))

places <- data.frame(
  x = c(181170, 180310, 180205, 178673, 178770, 178270),
  y = c(333250, 332189, 331707, 330066, 330675, 331075)
)
coordinates(places) <- ~ x + y
points <- krige(lz ~ 1, meuse, places, logs, debug.level = 0)
show("log estimate", points$var1.pred)
show("log variance", points$var1.var)
steep <- vgm(0.7187, "Exp", 449.8)
points <- krige(lz ~ 1, meuse, places, steep, nmax = 16, debug.level = 0)
show("exp nmax 16 estimate", points$var1.pred)
show("exp nmax 16 variance", points$var1.var)

model <- vgm(1.34e5, "Sph", 800, nugget = 2.42e4)
points <- krige(zinc ~ 1, meuse, places, model, nmax = 40, nmin = 20, maxdist = 1000, debug.level = 0)
show("zinc estimate", points$var1.pred)
show("zinc variance", points$var1.var)
blocks <- krige(zinc ~ 1, meuse, places, model, block = c(40, 40), nmax = 40, nmin = 20, maxdist = 1000, debug.level = 0)
show("zinc block 40 estimate", blocks$var1.pred)
show("zinc block 40 variance", blocks$var1.var)
blocks <- krige(zinc ~ 1, meuse, places, model, block = c(400, 400), debug.level = 0)
show("zinc block 400 estimate", blocks$var1.pred)
show("zinc block 400 variance", blocks$var1.var)
show("zinc inverse distance", idw(zinc ~ 1, meuse, places, idp = 2, debug.level = 0)$var1.pred)

# A fit the user may start elsewhere: from the starts gstat makes itself, and from ours.
for (family in c("Sph", "Exp")) {
  fit <- fit.variogram(lags, vgm(family))
  show(paste("own start", family), fit$psill, fit$range[2], attr(fit, "SSErr"))
}
