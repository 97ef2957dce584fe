#include "tally.hpp"

#include <fmt/format.h>

#include <utility>

namespace {

constexpr std::size_t most_shown = 20; ///< Of the breaches of one invariant.

std::string row(const std::string& name, const std::array<std::uint64_t, 4>& counts,
                std::uint64_t breaches) {
  return fmt::format("{:<58}{:>10}{:>10}{:>11}{:>10}{:>9}\n", name, counts[0], counts[1], counts[2],
                     counts[3], breaches);
}

} // namespace

void Tally::add(Breach breach) {
  ++breaches_;
  if (++breaches_of_[breach.invariant] <= most_shown)
    first_.push_back(std::move(breach));
}

std::string Tally::report(std::string_view program, std::uint64_t seed) const {
  std::string text = fmt::format("{:<58}{:>10}{:>10}{:>11}{:>10}{:>9}\n", "checks", "paired",
                                 "two-group", "controlled", "baseline", "breaches");
  for (const auto& [invariant, counts] : counts_) {
    const auto found = breaches_of_.find(invariant);
    text += row(invariant, counts, found == breaches_of_.end() ? 0 : found->second);
  }
  text += "trials in which\n";
  for (const auto& [what, counts] : notes_)
    text += row(what, counts, 0);
  for (const Breach& breach : first_)
    text += fmt::format("BROKEN: {}: {} ({} --seed {} --trial {})\n", breach.invariant, breach.what,
                        program, seed, breach.trial);
  return text;
}
