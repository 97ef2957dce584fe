#pragma once

#include "eggfall/statistics/log_ratio_density.hpp"

#include "eggfall/trial/trial.hpp"

#include <optional>
#include <vector>

namespace eggfall {

/// Which numbers of larvae agree with a percentage that was reported instead of a number.
struct OpenShare {
  LarvaeRange range;        ///< The fewest and the most larvae of the worm, among WormShare::total.
  bool number_told = false; ///< Whether the total is known, or taken for granted.
};

/// Larvae of one worm among all (`total`) that were told apart in a culture. They are whole numbers
/// if they were counted. If a percentage was reported, `larvae` is that percentage of `total`, and
/// `open` says which numbers agree with it.
struct WormShare {
  double larvae = 0;
  double total = 0;
  std::optional<OpenShare> open = std::nullopt;
};

/// The posterior of one worm's eta = log(rho_w), rho_w being its own share of eggs left, from that
/// of all worms together (`all`, the law of log(rho)). With q the worm's share of the eggs above
/// the fraction bar (after treatment) and p its share below (before),
///
///     rho_w = rho q / p,
///
/// and q and p are products over the cultures where a side has several. The shares are binomial in
/// the larvae, each with Jeffreys' prior Beta(1/2, 1/2) (Brown, Cai & DasGupta 2001, Statistical
/// Science 16:101-133), independent of one another and of rho. The logarithms of the shares are
/// convolved with eta by the trapezoid rule over the logit of each share, which converges
/// exponentially. It is taken for granted that the eggs of all kinds of worm hatch equally well.
///
/// A share s of which only a percentage was told, of n larvae, has as its likelihood the sum over
/// all numbers k of the worm's larvae that agree with the percentage,
///
///     sum over k of C(n, k) s^k (1 - s)^(n - k),   k from the least to the most,
///
/// Where n is known, k runs over whole larvae. Where n is not known, k takes the middles of equal
/// steps of at most a tenth of a larva, and the binomial coefficient is written by the gamma
/// function. No more than 500 values of k are used; a wider range is spread over these.
///
/// Of a culture without larvae the share has its prior as its posterior.
/// @throws CalculationError if a share has more larvae than its total, or none in its range.
LogRatioDensity of_worm(const LogRatioDensity& all, const std::vector<WormShare>& above,
                        const std::vector<WormShare>& below);

} // namespace eggfall
