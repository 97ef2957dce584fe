#pragma once

#include "eggfall/trial/egg_count.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace eggfall {

/// What a pilot count says of the flock, with 90% limits.
struct Pilot {
  std::size_t animals = 0;
  std::uint64_t eggs = 0;
  double mean_epg = 0; ///< Arithmetic mean.
  double lower_mean_epg = 0;
  double upper_mean_epg = 0;
  double k = 0; ///< The median of its posterior, 0.05 to 1,000.
  double lower_k = 0;
  double upper_k = 0;
};

/// From the posterior of mean and k of one group (the model and prior of mean_posterior()), by
/// 4,000 draws of the stream (seed, stream_group("plan", "pilot")).
/// @throws InputError for fewer than three counts, or no egg in them.
Pilot pilot_of(const std::vector<Count>& counts, std::uint64_t seed);

} // namespace eggfall
