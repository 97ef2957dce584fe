#include "judgement/sample_words.hpp"

#include "base/number_words.hpp"

#include <fmt/format.h>

namespace eggfall {

std::string sampled_in_words(const SampleSummary& sample, std::string_view kind) {
  if (!is_pooled(sample))
    return fmt::format("{} {}animal{}", sample.animals, kind, plural(sample.animals));
  const std::string pools = fmt::format("{} pool{}", sample.pools, plural(sample.pools));
  const std::size_t single = sample.animals - sample.pools;
  return single == 0 ? fmt::format("{} of {} {}animals", pools, sample.animals_mixed, kind)
                     : fmt::format("{} and {} single animal{}, {} {}animals in all", pools, single,
                                   plural(single), sample.animals_mixed, kind);
}

std::string_view sampled_unit(const SampleSummary& sample) {
  return !is_pooled(sample) ? "animal" : sample.pools == sample.animals ? "pool" : "sample";
}

} // namespace eggfall
