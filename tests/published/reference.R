# The numbers that the tests compare with, from general-purpose software.
# Run: Rscript tests/published/reference.R   (R 4.2.2, boot 1.3-28, MASS 7.3-58)
suppressMessages({library(boot); library(MASS)})
options(digits = 12)
pre  <- c(14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25)
post <- c(0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1)
ctrl <- c(12, 5, 31, 7, 19, 2, 44, 16, 9, 23, 3, 28)
show <- function(name, ...) cat(name, format(c(...), digits = 12), "\n")

v <- function(x) var(x) / (length(x) * mean(x)^2)
for (level in c(0.90, 0.95)) {
  y2 <- v(post) + v(ctrl)
  t2 <- qt((1 + level) / 2, 22)
  show(paste("two-group log ratio", level), y2, t2,
       100 * (1 - mean(post) / mean(ctrl) * exp(c(t2, -t2) * sqrt(y2))))
  w <- v(post) + v(pre) - 2 * cov(pre, post) / (12 * mean(pre) * mean(post))
  t1 <- qt((1 + level) / 2, 11)
  show(paste("paired log ratio", level), w, t1,
       100 * (1 - mean(post) / mean(pre) * exp(c(t1, -t1) * sqrt(w))))
  a <- (1 - level) / 2
  odds <- function(p) p / (1 - p)
  show(paste("Jeffreys", level),
       100 * (1 - odds(qbeta(c(1 - a, a), sum(post) + 0.5, sum(pre) + 0.5))))
  show(paste("exact", level), 100 * (1 - odds(c(qbeta(1 - a, sum(post) + 1, sum(pre)),
                                                qbeta(a, sum(post), sum(pre) + 1)))))
}

set.seed(1)
paired <- boot(data.frame(pre, post), function(d, i) 100 * (1 - mean(d$post[i]) / mean(d$pre[i])),
               R = 200000)
print(boot.ci(paired, conf = 0.9, type = c("perc", "bca")))
two <- boot(data.frame(x = c(post, ctrl), g = rep(1:2, each = 12)),
            function(d, i) 100 * (1 - mean(d$x[i][d$g == 1]) / mean(d$x[i][d$g == 2])),
            R = 200000, strata = rep(1:2, each = 12))
# Analytic influence values in place of boot's regression on resamples.
influence <- c(-(post / mean(post) - 1), ctrl / mean(ctrl) - 1)
print(boot.ci(two, conf = 0.9, type = c("perc", "bca"), L = influence))
ratio <- boot(city, function(d, i) sum(d$x[i]) / sum(d$u[i]), R = 500000)
print(boot.ci(ratio, conf = 0.9, type = c("perc", "bca")))
print(t(city))

for (x in list(rep(0:7, c(70, 38, 17, 10, 9, 3, 2, 1)), pre, ctrl, post))
  show("k", suppressWarnings(glm.nb(x ~ 1, control = glm.control(maxit = 200, epsilon = 1e-14))$theta))
# Larval culture: P(eta + log q - log p < t), eta ~ normal(m, s), q ~ Beta(x + 1/2, n - x + 1/2) the
# share after treatment, p ~ Beta(y + 1/2, k - y + 1/2) that before, by nested integrate().
worm_below <- function(t, m, s, x, n, y, k) {
  on_logit <- function(f, a, b) {
    integrate(function(z) exp(a * z - (a + b) * log1p(exp(z)) - lbeta(a, b)) * f(-log1p(exp(-z))),
              -60, 60, rel.tol = 1e-10, subdivisions = 4000)$value
  }
  on_logit(function(log_p) sapply(log_p, function(lp)
    on_logit(function(log_q) pnorm((t - log_q + lp - m) / s), x + 0.5, n - x + 0.5)),
    y + 0.5, k - y + 0.5)
}
cat("worm 7 of 40 after, 12 of 100 before, normal(-3, 0.3):",
    format(worm_below(c(-3), -3, 0.3, 7, 40, 12, 100), digits = 9),
    format(worm_below(c(-2.2), -3, 0.3, 7, 40, 12, 100), digits = 9), "\n")
cat("worm 0 of 60 after, 90 of 100 before, normal(-4, 0.5):",
    format(worm_below(c(-9), -4, 0.5, 0, 60, 90, 100), digits = 9),
    format(worm_below(c(-6), -4, 0.5, 0, 60, 90, 100), digits = 9), "\n")
cat("one worm, 50 of 50 both times, normal(-2, 0.2):",
    format(worm_below(c(-2), -2, 0.2, 50, 50, 50, 50), digits = 9),
    format(worm_below(c(-1.7), -2, 0.2, 50, 50, 50, 50), digits = 9), "\n")

# Repeat counts of one sample: equal volumes; and the third over twice the volume.
show("dispersion", with(chisq.test(c(4, 11, 23)), c(statistic, p.value)))
show("dispersion", with(chisq.test(c(12, 15, 40), p = c(1, 1, 2) / 4), c(statistic, p.value)))

# Ranking and combinations: p = rho/(1 + rho) of each group ~ Beta(eggs after + 1/2, before + 1/2).
after <- c(8, 12, 9); before <- c(188, 150, 120)
f <- function(i) function(p) dbeta(p, after[i] + 0.5, before[i] + 0.5)
better <- function(i, p) pbeta(p, after[i] + 0.5, before[i] + 0.5, lower.tail = FALSE)
whole <- function(g) integrate(g, 0, 0.5, rel.tol = 1e-11, subdivisions = 5000)$value
chance <- function(i, margin) whole(function(p) {
  rho <- pmax(p / (1 - p) - margin, 0)
  out <- f(i)(p)
  for (j in setdiff(1:3, i)) out <- out * better(j, rho / (1 + rho))
  out
})
show("best of three", sapply(1:3, chance, 0))
show("within 0.02 of the best", sapply(1:3, chance, 0.02))
# P(rho_1 < r rho_2) and P(rho_1 rho_2 < r), and their 5% and 95% points.
quotient <- function(r) whole(function(p) { x <- r * p / (1 - p)
  f(2)(p) * (1 - better(1, x / (1 + x))) })
product <- function(r) whole(function(p) { x <- r * (1 - p) / p
  f(2)(p) * (1 - better(1, x / (1 + x))) })
root <- function(g, q, low, high) uniroot(function(r) g(r) - q, c(low, high), tol = 1e-13)$root
show("1 better than 2", quotient(1))
show("rho_1/rho_2", root(quotient, 0.05, 1e-3, 50), root(quotient, 0.95, 1e-3, 50))
# Two parts and their combination, 3.
after <- c(40, 30, 9); before <- c(160, 150, 188)
show("rho_1 rho_2", root(product, 0.05, 1e-4, 1), root(product, 0.95, 1e-4, 1))
show("3 better than 1 and 2 together", integrate(function(p)
  f(3)(p) * sapply(p / (1 - p), function(r) 1 - product(r)), 1e-4, 0.3, rel.tol = 1e-9)$value)

# Shares with Jeffreys limits (Brown, Cai & DasGupta 2001): x, n, lower, upper.
for (xn in list(c(29, 80), c(1, 10), c(31000, 100000), c(12, 12), c(0, 7))) {
  x <- xn[1]; n <- xn[2]
  show("share", x, n, if (x == 0) 0 else qbeta(0.025, x + 0.5, n - x + 0.5),
       if (x == n) 1 else qbeta(0.975, x + 0.5, n - x + 0.5))
}

# Chances of each class by the pooled count (90% Jeffreys limits; expected 95%, lower 90%), for n
# animals with m eggs seen on average, all alike: totals are Poisson, and every pair is enumerated.
classes <- function(n, m, e) {
  M <- n * m
  R <- M * (1 - e)
  g <- expand.grid(a = 0:qpois(1 - 1e-12, M), b = 0:(qpois(1 - 1e-12, R) + 1))
  w <- dpois(g$a, M) * dpois(g$b, R)
  low <- ifelse(g$b == 0, 0, qbeta(0.05, g$b + 0.5, g$a + 0.5))
  high <- qbeta(0.95, g$b + 0.5, g$a + 0.5)
  good <- g$a > 0 & 1 - high / (1 - high) >= 0.90
  poor <- g$a > 0 & 1 - low / (1 - low) < 0.95
  c(sum(w[good & !poor]), sum(w[good & poor]), sum(w[!good & poor]),
    sum(w[g$a > 0 & !good & !poor]))
}
for (e in c(0.995, 0.95, 0.90, 0.80)) show("classes 8 12", e, classes(8, 12, e))
