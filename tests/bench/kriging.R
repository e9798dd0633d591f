# gstat's contestant, a process of its own: Rscript kriging.R KIND POINTS OUT with count, width, height, cell, nugget, psill, range, radius, most, least.
args <- commandArgs(trailingOnly = TRUE)
number <- as.numeric(args[4:13])
names(number) <- c("count", "width", "height", "cell", "nugget", "psill", "range", "radius", "most", "least")
steps <- c()
timed <- function(step, work) {
  from <- proc.time()[["elapsed"]]
  result <- force(work)
  steps[[step]] <<- 1000 * (proc.time()[["elapsed"]] - from)
  invisible(result)
}
timed("load packages", suppressMessages({
  library(sp)
  library(gstat)
}))
points <- timed("read", {
  columns <- matrix(readBin(args[2], "double", 3 * number[["count"]]), ncol = 3)
  SpatialPointsDataFrame(columns[, 1:2], data.frame(value = columns[, 3]))
})
kriged <- timed("krige", {
  middles <- function(side) seq(number[["cell"]] / 2, side, number[["cell"]])
  cells <- SpatialPoints(expand.grid(x = middles(number[["width"]]), y = middles(number[["height"]])))
  model <- vgm(number[["psill"]], "Sph", number[["range"]], nugget = number[["nugget"]])
  krige(value ~ 1, points, cells, model,
    nmax = number[["most"]], nmin = number[["least"]], maxdist = number[["radius"]],
    block = if (args[1] == "blocks") rep(number[["cell"]], 2) else numeric(0), debug.level = 0
  )
})
timed("write", writeBin(c(kriged$var1.pred, sqrt(kriged$var1.var)), args[3]))
cat(sprintf('{"steps":{%s}}\n', paste(sprintf('"%s":%.1f', names(steps), unlist(steps)), collapse = ",")))
