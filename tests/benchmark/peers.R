# Times of general-purpose software on what floors.cpp times in eggfall; against_peers.sh runs both.
# Prints "name seconds-a-run", a line each.
suppressMessages(library(boot))
before <- c(14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25)
after <- c(0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1)
control <- c(12, 5, 31, 7, 19, 2, 44, 16, 9, 23, 3, 28)
seconds <- function(expression, runs) {
  code <- substitute(expression)
  frame <- parent.frame()
  system.time(for (run in seq_len(runs)) eval(code, frame))[["elapsed"]] / runs
}
set.seed(1)
pairs <- cbind(after, before)
fall <- function(data, drawn) 1 - sum(data[drawn, 1]) / sum(data[drawn, 2])
cat("bca", seconds(boot.ci(boot(pairs, fall, R = 10000), conf = 0.9, type = "bca"), 5), "\n")
limits <- function(t, c, level = 0.95) {
  nt <- length(t)
  nc <- length(c)
  y2 <- var(t) / (nt * mean(t)^2) + var(c) / (nc * mean(c)^2)
  100 * (1 - mean(t) / mean(c) * exp(c(1, -1) * qt((1 + level) / 2, nt + nc - 2) * sqrt(y2)))
}
cat("log_ratio", seconds(limits(after, control), 20000), "\n")
