#pragma once

#include "eggfall/statistics/log_ratio_density.hpp"

#include <cstdint>
#include <vector>

namespace eggfall {

/// Larvae of one worm among all that were told apart in a culture.
struct WormShare {
  std::uint64_t larvae = 0;
  std::uint64_t total = 0;
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
/// A culture without larvae leaves the prior alone.
/// @throws CalculationError if a share has more larvae than its total.
LogRatioDensity of_worm(const LogRatioDensity& all, const std::vector<WormShare>& above,
                        const std::vector<WormShare>& below);

} // namespace eggfall
