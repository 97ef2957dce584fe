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

# Shares of which percentages alone were told: each number k of larvae that is possible has the
# likelihood C(n, k) s^k (1 - s)^(n - k), so that the posterior of the share is a mixture of
# Beta(k + 1/2, n - k + 1/2) with weights C(n, k) B(k + 1/2, n - k + 1/2).
weights <- function(k, n) {
  w <- exp(lchoose_real(n, k) + lbeta(k + 0.5, n - k + 0.5))
  w / sum(w)
}
lchoose_real <- function(n, k) lgamma(n + 1) - lgamma(k + 1) - lgamma(n - k + 1)
# By the trapezoid rule over the logits z of both shares.
z <- seq(-40, 40, 0.02)
on_logits <- function(k, n) {
  w <- weights(k, n)
  d <- 0
  for (i in seq_along(k)) {
    a <- k[i] + 0.5; b <- n - k[i] + 0.5
    d <- d + w[i] * exp(a * z - (a + b) * log1p(exp(z)) - lbeta(a, b))
  }
  0.02 * d
}
open_below <- function(t, m, s, after, n, before, of) {
  q <- on_logits(after, n); p <- on_logits(before, of)
  log_share <- -log1p(exp(-z))
  some <- which(q > 1e-18)
  sum(sapply(which(p > 1e-18), function(i)
    p[i] * sum(q[some] * pnorm((t - log_share[some] + log_share[i] - m) / s))))
}
show("33% of 200 after, 20% of 100 rounded to 5% before, normal(-3, 0.3)",
     c(open_below(-3, -3, 0.3, 65:67, 200, 18:22, 100),
       open_below(-2.2, -3, 0.3, 65:67, 200, 18:22, 100)))
# Numbers untold, of 50: 2% rounded to 1% after, 40% rounded to 5% before; by the middles of steps
# of a tenth of a larva, and of a hundredth.
show("2% after, 40% before, of 50", c(
  open_below(-6, -3, 0.3, seq(0.8, 1.2, 0.1), 50, seq(18.8, 21.2, 0.1), 50),
  open_below(-6, -3, 0.3, seq(0.755, 1.245, 0.01), 50, seq(18.755, 21.245, 0.01), 50)))
# Of an unknown share before, which is at most 1: rho q, 60 of 100 after; and of an unknown share
# after, rho / p, 30 of 100 before. normal(-3, 0.3): the 5%, 50% and 95% points of eta.
with_one <- function(t, m, s, x, n, sign) {
  a <- x + 0.5; b <- n - x + 0.5
  integrate(function(z) exp(a * z - (a + b) * log1p(exp(z)) - lbeta(a, b)) *
            pnorm((t - sign * -log1p(exp(-z)) - m) / s), -30, 30, rel.tol = 1e-11,
            subdivisions = 4000)$value
}
points <- function(x, n, sign) sapply(c(0.05, 0.5, 0.95), function(p)
  uniroot(function(t) with_one(t, -3, 0.3, x, n, sign) - p, c(-8, 2), tol = 1e-12)$root)
show("eta of rho q, 60 of 100", points(60, 100, 1))
show("eta of rho / p, 30 of 100", points(30, 100, -1))

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
