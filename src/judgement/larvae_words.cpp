#include "judgement/larvae_words.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

/// A share as a percentage of four digits: enough for 12.5% and 33.33%, and too few to show the
/// rounding errors of fractions. "Below 2%" is read as the range from none to that, with its middle
/// as the share; such a share is told as below its upper end.
std::string share_in_percent(const WormShare& share, std::string_view below) {
  const auto& [least, most] = share.open->range;
  const bool told_as_below = least == 0 && share.larvae > 0 && share.larvae == most / 2;
  return fmt::format("{}{:.4g}%", told_as_below ? below : "",
                     100 * (told_as_below ? most : share.larvae) / share.total);
}

} // namespace

std::string larvae_as_cell(const WormShare& share) {
  return share.open ? share_in_percent(share, "<")
                    : fmt::format("{}/{}", share.larvae, share.total);
}

std::string larvae_in_short(const WormShare& share) {
  return share.open ? larvae_as_cell(share) : fmt::format("{} of {}", share.larvae, share.total);
}

std::string larvae_in_words(const WormShare& share) {
  return share.open ? share_in_percent(share, "under ") + " of the larvae"
                    : fmt::format("{} of {} larvae", share.larvae, share.total);
}

std::string limit_in_words(const Interval& interval) {
  return interval.lower ? "at least " + percent(*interval.lower)
                        : "at most " + percent(*interval.upper);
}

std::string stand_in_words(const WormShares& shares) {
  if (!shares.stand_in)
    return {};
  const std::vector<std::string> missing(shares.stand_in->missing.begin(),
                                         shares.stand_in->missing.end());
  return fmt::format("No culture of its own {}: the one {} stands in, as of the same mob.",
                     in_words(missing), shares.stand_in->place);
}

std::string cultures_in_words(const WormShares& shares, const Culture& before) {
  std::vector<std::string> sentences;
  if (!before.mixed_groups.empty())
    sentences.push_back("The culture before treatment was of several groups together.");
  const auto untold = [](const WormShare& share) { return share.open && !share.open->number_told; };
  if (std::ranges::any_of(shares.above, untold) || std::ranges::any_of(shares.below, untold))
    sentences.push_back(fmt::format("Percentages whose number of larvae was not told are taken to "
                                    "be of {}.",
                                    larvae_taken_for_granted));
  return fmt::format("{}", fmt::join(sentences, " "));
}

} // namespace eggfall
