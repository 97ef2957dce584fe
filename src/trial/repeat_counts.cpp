#include "trial/repeat_counts.hpp"

#include <boost/math/distributions/chi_squared.hpp>

#include <algorithm>
#include <cstdint>

namespace eggfall {
namespace {

struct Totals {
  std::uint64_t eggs = 0;
  double volume = 0; ///< In units of that of the first count, so that equal ones add up exactly.
};

double volume(const Count& count, const Count& unit) {
  return unit.factor.value() / count.factor.value();
}

Totals totals(const std::vector<Count>& repeats) {
  Totals result;
  for (const Count& count : repeats) {
    result.eggs += count.eggs.value();
    result.volume += volume(count, repeats.front());
  }
  return result;
}

} // namespace

std::optional<Count> combined(const std::vector<Count>& repeats) {
  if (repeats.empty())
    return std::nullopt;
  const Totals sums = totals(repeats);
  const auto eggs = static_cast<std::uint32_t>(
      std::min<std::uint64_t>(sums.eggs, std::uint64_t{EggsSeen::largest} + 1));
  const Count& first = repeats.front();
  return Count{EggsSeen(eggs), MultiplicationFactor(first.factor.value() / sums.volume),
               first.animals};
}

RepeatDispersion repeat_dispersion(const std::vector<Count>& repeats) {
  if (repeats.size() < 2)
    return {};
  const Totals sums = totals(repeats);
  const auto [finest, coarsest] =
      std::ranges::minmax(repeats, {}, [](const Count& count) { return count.factor.value(); });
  const double fewest_expected =
      static_cast<double>(sums.eggs) * volume(coarsest, repeats.front()) / sums.volume;
  const bool alike = coarsest.factor.value() <= 2 * finest.factor.value();
  if (fewest_expected < (alike ? 1 : 5))
    return {};
  RepeatDispersion result;
  result.degrees_of_freedom = static_cast<double>(repeats.size() - 1);
  for (const Count& count : repeats) {
    const double expected =
        static_cast<double>(sums.eggs) * volume(count, repeats.front()) / sums.volume;
    const double difference = count.eggs.value() - expected;
    result.chi_squared += difference * difference / expected;
  }
  return result;
}

double dispersion_p_value(const RepeatDispersion& dispersion) {
  return boost::math::cdf(boost::math::complement(
      boost::math::chi_squared_distribution<>(dispersion.degrees_of_freedom),
      dispersion.chi_squared));
}

} // namespace eggfall
