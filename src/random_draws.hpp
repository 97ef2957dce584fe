#pragma once

#include "eggfall/egg_count.hpp"
#include "eggfall/random_stream.hpp"

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
  const double shape = 1 / (cv * cv);
  return cv > 0 ? gamma_draw(shape, stream) / shape : 1.0;
}

inline EggsSeen poisson_draw(double mean, RandomStream& stream) {
  // What no slide holds is not drawn: EggsSeen has an upper end.
  const double capped = std::min(mean, 0.9 * EggsSeen::largest);
  if (!(capped > 0))
    return EggsSeen(0);
  const int eggs = boost::random::poisson_distribution<int, double>(capped)(stream);
  return EggsSeen(std::min(static_cast<std::uint32_t>(eggs), EggsSeen::largest));
}

} // namespace eggfall
