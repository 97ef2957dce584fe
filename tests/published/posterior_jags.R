# Reference quantiles of the three posteriors, by Markov chains in JAGS.
#
# Run: Rscript tests/published/posterior_jags.R OUTPUT.csv [DRAWS] [DATASET]
# Writes a line a data set and quantile: the efficacy in percent, its Monte Carlo standard error
# (batch means of the quantile over 52 batches) and the effective sample size of log(rho).
# The stored output is posterior_jags.csv beside this file, with the versions in its first line.
suppressMessages({library(rjags); library(coda)})
arguments <- commandArgs(trailingOnly = TRUE)
draws <- if (length(arguments) > 1) as.integer(arguments[2]) else 100000L
only <- if (length(arguments) > 2) arguments[3] else NA

a <- c(14, 3, 22, 9, 41, 6, 17, 2, 30, 11, 8, 25)
b <- c(0, 0, 1, 0, 3, 0, 2, 0, 0, 1, 0, 1)
control <- c(12, 5, 31, 7, 19, 2, 44, 16, 9, 23, 3, 28)
heavy <- c(31, 12, 8, 25, 17, 40, 9, 22, 15, 28)
paired <- function(a, b, f1 = 1, f2 = 1) list(design = "paired", a = a, b = b, f1 = f1, f2 = f2)
two <- function(t, c, ft = 1, fc = 1) list(design = "two-group", t = t, c = c, ft = ft, fc = fc)
sets <- list(
  trial_a = paired(a, b),
  zeros_after = paired(a, rep(0, 12)),
  one_heavy_shedder = paired(heavy, c(0, 0, 0, 0, 0, 38, 0, 1, 0, 0)),
  a_rise = paired(c(5, 3, 9, 12, 7, 4), c(9, 2, 15, 20, 6, 11)),
  unequal_factors = paired(a, c(1, 0, 3, 2, 9, 0, 5, 0, 2, 3, 1, 4), 15, 5),
  three_animals = paired(c(12, 5, 20), c(1, 0, 2)),
  resistant = paired(c(104, 85, 9, 76, 73, 9, 17, 28, 65, 25), c(69, 78, 28, 76, 67, 11, 19, 56, 62, 10)),
  many_zero_pairs = paired(c(0, 0, 4, 1, 0, 7, 2, 0), c(0, 1, 0, 0, 0, 1, 0, 0)),
  two_groups = two(b, control),
  two_groups_zeros = two(rep(0, 10), c(4, 0, 7, 2, 1, 9, 0, 3, 5, 2)),
  two_groups_factors = two(c(3, 0, 7, 1, 12, 0, 2), c(9, 15, 2, 30, 8, 4, 11), 5, 15),
  three_a_group = two(c(1, 0, 2), c(12, 5, 20)),
  controlled = list(design = "controlled", a = a, b = b,
                    c1 = c(10, 22, 7, 31, 15, 4, 18, 9), c2 = c(14, 15, 9, 40, 11, 6, 30, 8)),
  controlled_rise = list(design = "controlled", a = heavy, b = c(2, 0, 1, 4, 0, 3, 0, 2, 1, 5),
                         c1 = c(8, 14, 3, 20, 11), c2 = c(20, 31, 9, 44, 18)))

# The priors are the defaults of include/eggfall/posterior.hpp.
# The levels m_i drop out of the paired model: b_i given n_i is binomial.
pair_block <- "
  for (i in 1:N%1$s) {
    y%1$s[i] ~ dbin(p%1$s[i], n%1$s[i])
    logit(p%1$s[i]) <- eta%1$s + shift%1$s + log(v%1$s[i]) - log(u%1$s[i])
    u%1$s[i] ~ dgamma(kappa%1$s, kappa%1$s)
    v%1$s[i] ~ dgamma(kappa%1$s, kappa%1$s)
  }
  kappa%1$s <- 1 / (tau%1$s * tau%1$s)
  tau%1$s ~ dnorm(0, 1 / 1.44) T(0.024, 2.04)
  q%1$s ~ dbeta(0.5, 0.5)
  eta%1$s <- logit(q%1$s) - shift%1$s
"
group_block <- "
  for (i in 1:N%1$s) {
    x%1$s[i] ~ dnegbin(k%1$s / (k%1$s + mean%1$s), k%1$s)
  }
  k%1$s <- 1 / (cv%1$s * cv%1$s)
  cv%1$s ~ dnorm(0, 1 / 4) T(0.04, 3.4)
  q%1$s ~ dbeta(0.5, 0.5)
  mean%1$s <- 30 * q%1$s / (1 - q%1$s)
"
# A Poisson zero multiplies the prior by exp(-log(cvT / cvC)^2 / (2 * 0.5^2)).
tie_block <- "
  zero ~ dpois(pow(log(cvT / cvC), 2) / (2 * 0.25))
"
pair_data <- function(a, b, f1, f2, tag) {
  keep <- a + b > 0 # an animal without eggs says nothing
  setNames(list(sum(keep), b[keep], (a + b)[keep], log(f1 / f2)), paste0(c("N", "y", "n", "shift"), tag))
}
problem <- function(s) switch(s$design,
  paired = list(model = c(sprintf(pair_block, "A"), "etaX <- etaA"),
                data = pair_data(s$a, s$b, s$f1, s$f2, "A")),
  controlled = list(model = c(sprintf(pair_block, "A"), sprintf(pair_block, "B"), "etaX <- etaA - etaB"),
                    data = c(pair_data(s$a, s$b, 1, 1, "A"), pair_data(s$c1, s$c2, 1, 1, "B"))),
  "two-group" = list(model = c(sprintf(group_block, "T"), sprintf(group_block, "C"), tie_block,
                               "etaX <- log(meanT) - log(meanC) + shift"),
                     data = list(zero = 0, NT = length(s$t), xT = s$t, NC = length(s$c), xC = s$c,
                                 shift = log(s$ft / s$fc))))
slow <- c(many_zero_pairs = 5) # chains that mix slowly run this many times longer
quantiles <- c(0.025, 0.05, 0.5, 0.95, 0.975)
lines <- sprintf("# R %s, JAGS %s, rjags %s, %d draws a chain (more for slow ones), 4 chains, seeds 1-4",
                 getRversion(), rjags::jags.version(), packageVersion("rjags"), draws)
lines <- c(lines, "dataset,quantile,efficacy_percent,mc_error,ess")
for (name in if (is.na(only)) names(sets) else only) {
  p <- problem(sets[[name]])
  inits <- lapply(1:4, function(i) list(.RNG.name = "base::Mersenne-Twister", .RNG.seed = i))
  model <- jags.model(textConnection(c("model {", p$model, "}")), data = p$data, inits = inits,
                      n.chains = 4, n.adapt = 2000, quiet = TRUE)
  update(model, 2000, progress.bar = "none")
  n <- draws * if (name %in% names(slow)) slow[[name]] else 1
  chains <- coda.samples(model, "etaX", n.iter = n, progress.bar = "none")
  eta <- unlist(lapply(chains, as.numeric))
  batch <- rep(seq_len(52), each = ceiling(length(eta) / 52))[seq_along(eta)]
  for (q in quantiles) {
    at <- 100 * (1 - exp(quantile(eta, 1 - q)))
    means <- tapply(eta, batch, function(x) 100 * (1 - exp(quantile(x, 1 - q))))
    lines <- c(lines, sprintf("%s,%g,%.6f,%.6f,%.0f", name, q, at, sd(means) / sqrt(length(means)),
                              sum(effectiveSize(chains))))
  }
  cat(name, "\n")
}
writeLines(lines, arguments[1])
