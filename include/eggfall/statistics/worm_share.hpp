#pragma once

#include "eggfall/statistics/log_ratio_density.hpp"

#include "eggfall/trial/trial.hpp"

#include <optional>
#include <vector>

namespace eggfall {

/// What a percentage of the larvae leaves open.
struct OpenShare {
  LarvaeRange range;        ///< The fewest and the most larvae of the worm, among WormShare::total.
  bool number_told = false; ///< Whether the total is known, or taken for granted.
};

/// Larvae of one worm among all that were told apart in a culture: whole numbers if they were
/// counted, or else the percentage of `total`, and what it leaves open.
struct WormShare {
  double larvae = 0;
  double total = 0;
  std::optional<OpenShare> open = std::nullopt;
};

/// The posterior of one worm's eta = log(rho_w) from that of all worms together. With q the worm's
/// share of the eggs above the fraction bar (after treatment) and p its share below (before),
///
///     rho_w = rho q / p,
///
/// a product over the cultures if there are several a side. The shares are binomial in the larvae,
/// each with Jeffreys' prior Beta(1/2, 1/2) (Brown, Cai & DasGupta 2001, Statistical Science
/// 16:101-133), independent of one another and of rho: log q and log p are added by the trapezoid
/// rule over the logit of the share, which converges exponentially. It takes for granted that the
/// kinds of worm hatch alike.
///
/// A share of which only a percentage was told has the likelihood of all numbers that this leaves
/// open,
///
///     sum over k of C(n, k) s^k (1 - s)^(n - k),   k from the least to the most,
///
/// k in whole larvae where n larvae are known to have been told apart, else the middles of equal
/// steps of at most a tenth of a larva, with the gamma function in the binomial coefficient; at
/// most 500 of them.
///
/// A culture without larvae leaves the prior alone.
/// @throws CalculationError if a share has more larvae than its total, or none in its range.
LogRatioDensity of_worm(const LogRatioDensity& all, const std::vector<WormShare>& above,
                        const std::vector<WormShare>& below);

} // namespace eggfall
