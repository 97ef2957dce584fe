#pragma once

#include "base/text.hpp"
#include "eggfall/judgement/trial_analysis.hpp"

#include <fmt/format.h>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

// The words that caveats share.
namespace eggfall {

inline std::string_view plural(std::size_t count) {
  return count == 1 ? "" : "s";
}

/// Three digits, or all before the point.
inline std::string number(double value) {
  return value >= 100 ? fmt::format("{:.0f}", value) : fmt::format("{:.3g}", value);
}

/// "A, B and 3 more"
inline std::string listed(const std::vector<std::string>& items) {
  constexpr std::size_t most = 4;
  if (items.size() <= most)
    return in_words(items);
  std::vector<std::string> shown(items.begin(), items.begin() + most - 1);
  shown.push_back(fmt::format("{} more", items.size() - shown.size()));
  return in_words(shown);
}

/// "14 animals", "5 pools of 50 animals", "4 pools and 1 single animal, 41 animals in all". `kind`
/// is of the animals: "treated ", ...
inline std::string sampled_in_words(const SampleSummary& sample, std::string_view kind = "") {
  if (!is_pooled(sample))
    return fmt::format("{} {}animal{}", sample.animals, kind, plural(sample.animals));
  const std::string pools = fmt::format("{} pool{}", sample.pools, plural(sample.pools));
  const std::size_t single = sample.animals - sample.pools;
  return single == 0 ? fmt::format("{} of {} {}animals", pools, sample.animals_mixed, kind)
                     : fmt::format("{} and {} single animal{}, {} {}animals in all", pools, single,
                                   plural(single), sample.animals_mixed, kind);
}

/// "pool", "animal", or "sample" where there are both.
inline std::string_view sampled_unit(const SampleSummary& sample) {
  return !is_pooled(sample) ? "animal" : sample.pools == sample.animals ? "pool" : "sample";
}

} // namespace eggfall
