# Reference values of the law of a region's farms (statistics/region_law), by Markov chains in JAGS.
#
# Run: Rscript tests/published/region_jags.R OUTPUT.csv [DRAWS]
# Twelve groups, a eggs counted before treatment and b after, in two data sets:
#   counts  b ~ Binomial(a + b, rho/(1 + rho));
#   curves  the three whole numbers that the library hears of each of these likelihoods, their curve
#           worked out here anew from its definition (by the zeros trick).
# A line a data set and quantity: the value, and its Monte Carlo standard error by means of 52 batches.
# The stored output is region_jags.csv beside this file, with the versions in its first line.
suppressMessages({library(rjags); library(coda)})
arguments <- commandArgs(trailingOnly = TRUE)
draws <- if (length(arguments) > 1) as.integer(arguments[2]) else 200000L

a <- c(200, 45, 150, 80, 300, 60, 120, 30, 500, 90, 20, 250)
b <- c(0, 0, 2, 1, 40, 30, 1, 0, 3, 25, 4, 12)
heard <- matrix(c(30, -18, 17, 30, -14, 17, 23, -30, 9, 25, -21, 11, 15, -45, 5, 17, -9, 4, 25, -24, 11,
                  30, -12, 17, 22, -42, 8, 17, -20, 5, 23, -9, 7, 18, -45, 6), ncol = 3, byrow = TRUE)
skews <- c(-2, -1, -0.5, -0.25, 0, 0.18, 0.25, 0.35, 0.5, 0.7, 0.85, 1, 1.2, 1.4, 1.7, 2, 2.8, 16)
curve_of <- function(x, k) if (k == 0) -x^2 / 2 else (k * x - exp(k * x) + 1) / k^2
right <- function(k, drop) uniroot(function(x) curve_of(x, k) + drop, c(0, 20), tol = 1e-12)$root
k <- skews[heard[, 3] + 1]
u <- 0.02 * 1.15^heard[, 1]
x1 <- sapply(k, right, 0.5)
scale <- u / (sapply(k, right, 2) - x1)
mode <- heard[, 2] * u / 4 - scale * x1

population <- "
  m ~ dnorm(log(0.05), 1 / 4) T(-8.5, 1.5)
  v ~ dnorm(0, 1 / 2.25) T(0.1, 5)
  r ~ dunif(0, 0.95)
  w ~ dunif(0.02, 0.98)
  q ~ dnorm(0, 4) T(-1.25, 1.25)
  gap <- v * sqrt(r / (w * (1 - w)))
  s0 <- v * sqrt((1 - r) / (1 - w + w * exp(2 * q)))
  mu[1] <- m - w * gap
  mu[2] <- m + (1 - w) * gap
  s[1] <- max(s0, 0.08)
  s[2] <- max(s0 * exp(q), 0.08)
  for (g in 1:N) {
    kind[g] ~ dbern(w)
    eta[g] ~ dnorm(mu[kind[g] + 1], 1 / s[kind[g] + 1]^2)
    held[g] <- min(max(eta[g], -9.2), 3)
    below90[g] <- step(held[g] - log(0.1))
    below95[g] <- step(held[g] - log(0.05))
  }
  tested90 <- sum(below90)
  tested95 <- sum(below95)
  new_kind ~ dbern(w)
  new ~ dnorm(mu[new_kind + 1], 1 / s[new_kind + 1]^2)
"
sets <- list(
  counts = list(model = "for (g in 1:N) { b[g] ~ dbin(ilogit(held[g]), n[g]) }",
                data = list(N = 12, b = b, n = a + b)),
  curves = list(model = "for (g in 1:N) {
                  x[g] <- (held[g] - mode[g]) / scale[g]
                  lost[g] <- ifelse(k[g] == 0, x[g]^2 / 2,
                                    (exp(min(kk[g] * x[g], 600)) - 1 - kk[g] * x[g]) / kk[g]^2)
                  zero[g] ~ dpois(lost[g])
                }",
                data = list(N = 12, k = k, kk = ifelse(k == 0, 1, k), mode = mode, scale = scale,
                            zero = rep(0, 12))))

# The median and the mean of the population at a draw of the hyperparameters.
median_of <- function(d) {
  low <- rep(-60, nrow(d)); high <- rep(60, nrow(d))
  for (i in 1:60) {
    middle <- (low + high) / 2
    below <- (1 - d$w) * pnorm(middle, d$mu1, d$s1) + d$w * pnorm(middle, d$mu2, d$s2)
    low <- ifelse(below < 0.5, middle, low); high <- ifelse(below < 0.5, high, middle)
  }
  (low + high) / 2
}
mean_of_kind <- function(mu, s) {
  l <- -9.2; h <- 3
  exp(mu + s^2 / 2) * (pnorm((h - mu - s^2) / s) - pnorm((l - mu - s^2) / s)) +
    exp(h) * pnorm((mu - h) / s) + exp(l) * pnorm((l - mu) / s)
}

lines <- sprintf("# R %s, JAGS %s, rjags %s, %d draws a chain, every tenth kept, 4 chains, seeds 1-4",
                 getRversion(), rjags::jags.version(), packageVersion("rjags"), draws)
lines <- c(lines, "dataset,quantity,value,mc_error")
for (name in names(sets)) {
  p <- sets[[name]]
  # Both kinds begin somewhere else in each chain.
  inits <- lapply(1:4, function(i) list(.RNG.name = "base::Mersenne-Twister", .RNG.seed = i, m = -4 + i / 2,
                                        v = 1 + i / 4, w = i / 5, r = i / 6, q = 0, eta = rep(-3, 12)))
  model <- jags.model(textConnection(c("model {", population, p$model, "}")), data = p$data, inits = inits,
                      n.chains = 4, n.adapt = 5000, quiet = TRUE)
  update(model, 10000, progress.bar = "none")
  chains <- coda.samples(model, c("m", "v", "w", "mu", "s", "held", "new", "tested90", "tested95"),
                         n.iter = draws, thin = 10, progress.bar = "none")
  all <- do.call(rbind, lapply(chains, as.matrix))
  batch <- rep(seq_len(52), each = ceiling(nrow(all) / 52))[seq_len(nrow(all))]
  add <- function(quantity, x, f) {
    means <- tapply(x, batch, f)
    lines <<- c(lines, sprintf("%s,%s,%.6f,%.6f", name, quantity, f(x), sd(means) / sqrt(length(means))))
  }
  quantiles <- function(quantity, x) for (p in c(0.05, 0.5, 0.95))
    add(sprintf("%s %g", quantity, p), x, function(y) unname(quantile(y, p)))
  d <- data.frame(mu1 = all[, "mu[1]"], mu2 = all[, "mu[2]"], s1 = all[, "s[1]"], s2 = all[, "s[2]"],
                  w = all[, "w"])
  quantiles("log median", pmin(pmax(median_of(d), -9.2), 3))
  quantiles("log mean", log((1 - d$w) * mean_of_kind(d$mu1, d$s1) + d$w * mean_of_kind(d$mu2, d$s2)))
  quantiles("log spread", log(all[, "v"]))
  quantiles("new farm", pmin(pmax(all[, "new"], -9.2), 3))
  for (g in 1:12) quantiles(sprintf("group %d", g), all[, sprintf("held[%d]", g)])
  for (t in c("90", "95")) {
    x <- all[, paste0("tested", t)]
    add(sprintf("tested below %s mean", t), x, mean)
    for (n in 0:12) if (mean(x <= n) > 0.01 && mean(x <= n) < 0.99)
      add(sprintf("tested below %s at most %d", t, n), x, function(y) mean(y <= n))
  }
  cat(name, "\n")
}
writeLines(lines, arguments[1])
