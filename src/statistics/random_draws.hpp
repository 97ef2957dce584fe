#pragma once

#include "eggfall/base/random_stream.hpp"
#include "eggfall/trial/egg_count.hpp"

#include <boost/random/gamma_distribution.hpp>
#include <boost/random/poisson_distribution.hpp>

#include <algorithm>
#include <cstdint>

namespace eggfall {

/// A gamma variable of scale 1, so its mean is `shape`.
inline double gamma_draw(double shape, RandomStream& stream) {
  return boost::random::gamma_distribution<double>(shape, 1.0)(stream);
}

/// A gamma variable of mean 1 and the given coefficient of variation, 0 or more.
inline double gamma_luck(double cv, RandomStream& stream) {
  // A coefficient of variation below this cannot show in any count, and its square may round to 0.
  constexpr double none = 1e-6;
  if (cv < none)
    return 1;
  const double shape = 1 / (cv * cv);
  return gamma_draw(shape, stream) / shape;
}

/// A Poisson variable as a count of eggs, for `mean` of 0 or more; at most EggsSeen::largest.
inline EggsSeen poisson_draw(double mean, RandomStream& stream) {
  // EggsSeen has a largest value, which a draw must not exceed; no slide holds so many eggs.
  const double capped = std::min(mean, 0.9 * EggsSeen::largest);
  if (!(capped > 0))
    return EggsSeen(0);
  const int eggs = boost::random::poisson_distribution<int, double>(capped)(stream);
  return EggsSeen(std::min(static_cast<std::uint32_t>(eggs), EggsSeen::largest));
}

} // namespace eggfall
