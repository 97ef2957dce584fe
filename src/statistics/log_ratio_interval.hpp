#pragma once

#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/ratio_data.hpp"

namespace eggfall {

/// Variance of log rho by the delta method, and its degrees of freedom:
///
///     V = sum over samples of [ s_a^2/(n m_a^2) + s_b^2/(n m_b^2)
///                               - 2 cov_ab/(n m_a m_b) ],
///     df = sum over samples of (n - 1),
///
/// for samples of n animals, m, s^2 and cov being the sample's means, variances and covariance with
/// n - 1 in the divisor, a above the bar and b below it; the terms of a side that the sample lacks
/// are 0. With the relative_influence() u_i each sample's term is sum_i u_i^2/(n (n - 1)), which
/// also serves where animals weigh differently. For two independent groups V is the Y2 of Coles et
/// al. 1992, Veterinary Parasitology 44:35-44, with df = n_T + n_C - 2.
struct LogRatioVariance {
  double variance = 0;
  double degrees_of_freedom = 0;
};

/// @throws CalculationError if a sample has fewer than two animals or a mean of 0, or as ratio().
LogRatioVariance log_ratio_variance(const RatioData& data);

/// Limits rho * exp(-/+ t sqrt(V)) of rho, t being the (1 + level)/2 quantile of Student's t on
/// df degrees of freedom. Given two independent samples this is the interval of
/// Coles et al. 1992; given paired samples, its paired form.
///
/// Not usable if a sample has fewer than two animals, a mean is zero (no egg at
/// all: the logarithm does not exist), V is zero, or a limit is beyond any number (as two animals
/// can make it at 99.9%).
/// @throws InputError unless 0 < level < 1.
OrReason<RatioLimits> log_ratio_limits(const RatioData& data, double level);

} // namespace eggfall
