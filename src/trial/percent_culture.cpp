#include "trial/percent_culture.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

/// Percentages are typed with few decimals; what differs by less differs by the way of calculation.
constexpr double trifle = 1e-9;

constexpr double all_percent = 100;

/// What a percentage leaves open, in percent.
LarvaeRange percent_range(const ToldPercentage& told, double rounded_to) {
  if (told.below)
    return {0, told.percent};
  return {std::max(0.0, told.percent - rounded_to / 2),
          std::min(all_percent, told.percent + rounded_to / 2)};
}

std::string as_written(const ToldPercentage& told) {
  return fmt::format("{}{}%", told.below ? "<" : "", told.percent);
}

/// "6 are 60%, 7 are 70%"
std::string neighbours(double percent, double total) {
  const double fewer = std::floor(percent * total / all_percent);
  const auto share = [&](double larvae) {
    return fmt::format("{} {} {:.4g}%", larvae, larvae == 1 ? "is" : "are",
                       all_percent * larvae / total);
  };
  return fewer >= total ? share(total) : share(fewer) + ", " + share(fewer + 1);
}

/// Leaves of each range what the others allow if all are to sum to `total`; whether anything is
/// left.
bool tighten(std::vector<LarvaeRange>& ranges, double total) {
  LarvaeRange sum;
  for (const LarvaeRange& each : ranges) {
    sum.least += each.least;
    sum.most += each.most;
  }
  if (sum.least > total + trifle || sum.most < total - trifle)
    return false;
  for (LarvaeRange& each : ranges) {
    const LarvaeRange others{sum.least - each.least, sum.most - each.most};
    // Fractions may cross by a trifle where only one number is left.
    each = {std::max(each.least, total - others.most), std::min(each.most, total - others.least)};
    each.most = std::max(each.least, each.most);
  }
  return true;
}

bool are_single(const std::vector<LarvaeRange>& ranges) {
  return std::ranges::all_of(ranges,
                             [](const LarvaeRange& each) { return each.least == each.most; });
}

NoCulture not_all(const std::vector<WormPercentage>& worms, double rounded_to) {
  double sum = 0;
  LarvaeRange possible;
  for (const WormPercentage& each : worms) {
    const LarvaeRange range = percent_range(each.told, rounded_to);
    possible.least += range.least;
    possible.most += range.most;
    sum += each.told.percent;
  }
  // A workbook stores what it shows as 60% as 0.6, and no culture's percentages sum to 1.
  constexpr double most_off_one = 0.05;
  if (std::abs(sum - 1) <= most_off_one)
    return {std::nullopt,
            fmt::format("percentages written as parts of one, which sum to {:.6g},", sum),
            "percentages that sum to 100%: 60, and not 0.6 (a cell that a workbook shows as 60% by "
            "its format holds 0.6: write 60 into a cell without that format)"};
  return {std::nullopt,
          fmt::format("percentages that sum to {:.6g}%{}", sum,
                      possible.least <= all_percent && possible.most >= all_percent
                          ? ", of which no whole numbers sum to the number told apart"
                          : ""),
          fmt::format("100% within rounding to {:g}% (give larvae that were told apart no further "
                      "a line of their own, such as \"other\")",
                      rounded_to)};
}

} // namespace

std::optional<ToldPercentage> parse_percentage(std::string_view cell) {
  ToldPercentage told;
  cell = trimmed(cell);
  if (cell.starts_with('<')) {
    told.below = true;
    cell = trimmed(cell.substr(1));
  }
  if (cell.ends_with('%'))
    cell = trimmed(cell.substr(0, cell.size() - 1));
  const auto number = parse_number(cell);
  if (!number || !(*number >= 0 && *number <= all_percent) || (told.below && *number == 0) ||
      cell.find_first_of("eE") != std::string_view::npos)
    return std::nullopt;
  told.percent = *number;
  if (const auto point = cell.find_first_of(".,"); point != std::string_view::npos)
    told.decimals = static_cast<int>(cell.size() - point - 1);
  return told;
}

double rounding_of(const std::vector<ToldPercentage>& told) {
  constexpr double coarse = 5;
  const bool fives = std::ranges::all_of(told, [](const ToldPercentage& each) {
    return each.below || std::fmod(each.percent, coarse) == 0;
  });
  if (fives)
    return coarse;
  int decimals = 0;
  for (const ToldPercentage& each : told)
    decimals = std::max(decimals, each.below ? 0 : each.decimals);
  return std::pow(10.0, -decimals);
}

std::variant<Culture, NoCulture> percent_culture(const std::vector<WormPercentage>& worms,
                                                 std::optional<std::uint32_t> told_apart,
                                                 double rounded_to) {
  const double total = told_apart.value_or(larvae_taken_for_granted);
  std::vector<LarvaeRange> ranges;
  for (std::size_t i = 0; i < worms.size(); ++i) {
    LarvaeRange range = percent_range(worms[i].told, rounded_to);
    range = {range.least * total / all_percent, range.most * total / all_percent};
    if (told_apart) {
      range = {std::ceil(range.least - trifle), std::floor(range.most + trifle)};
      if (range.least > range.most)
        return NoCulture{
            i,
            fmt::format("{} of {} larvae told apart, which no whole number of larvae gives ({})",
                        as_written(worms[i].told), total, neighbours(worms[i].told.percent, total)),
            fmt::format("a percentage of that number, rounded to {:g}% (or the larvae themselves "
                        "in a column larvae)",
                        rounded_to)};
    }
    ranges.push_back(range);
  }
  if (!tighten(ranges, total))
    return not_all(worms, rounded_to);
  Culture culture;
  const bool counted = told_apart && are_single(ranges);
  if (!counted)
    culture.percentages = PercentCulture{total, told_apart.has_value(), rounded_to};
  for (std::size_t i = 0; i < worms.size(); ++i) {
    const ToldPercentage& told = worms[i].told;
    const auto& [least, most] = ranges[i];
    // What is below a number is shown by the middle, and judged by all that is below it.
    const double likely = told.below ? (least + most) / 2
                                     : std::clamp(told.percent * total / all_percent, least, most);
    culture.worms.push_back({worms[i].worm, counted ? least : likely,
                             counted ? std::nullopt : std::optional(ranges[i])});
  }
  return culture;
}

} // namespace eggfall
