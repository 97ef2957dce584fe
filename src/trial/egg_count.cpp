#include "eggfall/trial/egg_count.hpp"

#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <cmath>

namespace eggfall {

EggsSeen::EggsSeen(std::uint32_t eggs) : eggs_(eggs) {
  if (eggs > largest)
    throw InputError(fmt::format("{} eggs seen in one sample; expected at most {}", eggs, largest));
}

Epg::Epg(double eggs_per_gram) : eggs_per_gram_(eggs_per_gram) {
  if (!std::isfinite(eggs_per_gram) || eggs_per_gram < 0)
    throw InputError(fmt::format("{} eggs per gram; expected 0 or more", eggs_per_gram));
}

MultiplicationFactor::MultiplicationFactor(double epg_per_egg) : epg_per_egg_(epg_per_egg) {
  if (!std::isfinite(epg_per_egg) || epg_per_egg < smallest || epg_per_egg > largest)
    throw InputError(
        fmt::format("a multiplication factor of {}; expected {} to {} EPG per egg seen",
                    epg_per_egg, smallest, largest));
}

Epg operator*(EggsSeen eggs, MultiplicationFactor factor) {
  return Epg(static_cast<double>(eggs.value()) * factor.value());
}

std::optional<EggsSeen> eggs_behind(Epg epg, MultiplicationFactor factor) {
  const double eggs = std::round(epg.value() / factor.value());
  if (eggs > EggsSeen::largest)
    return std::nullopt;
  const double difference = std::abs(epg.value() - eggs * factor.value());
  const bool whole_factor = factor.value() == std::round(factor.value());
  // Reports print whole EPG: a fractional factor loses up to half an EPG, and
  // two candidate counts stay apart only if the factor exceeds one EPG.
  const bool whole_epg = epg.value() == std::round(epg.value());
  const double tolerance =
      !whole_factor && whole_epg && factor.value() > 1 ? 0.5 : 1e-6 * std::max(1.0, epg.value());
  if (difference > tolerance)
    return std::nullopt;
  return EggsSeen(static_cast<std::uint32_t>(eggs));
}

} // namespace eggfall
