#include "intake/day_of_one_sample.hpp"

#include "base/text.hpp"
#include "intake/time_point.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string>
#include <utility>

namespace eggfall {
namespace {

constexpr const char* days_after = "days_after";

/// Moves the counts of a visit to the one sample after treatment, and the day to an attribute, with
/// its unit, for the head that it is told by may count in weeks.
void keep_day(RawAnimal& animal, int day) {
  for (const auto& [key, count] : animal.counts) {
    const RawCell& cell = count.cell;
    if (key.time.day == day)
      animal.attributes.emplace(days_after, RawCell{fmt::format("day {}", day), cell.source,
                                                    cell.line, cell.column, cell.head});
  }
  move_counts(animal, [](const SampleTime& time) { return SampleTime{time.occasion, 0}; });
  auto factor = animal.attributes.extract(
      fmt::format("factor_{}", to_string(SampleTime{Occasion::after, day})));
  if (factor) {
    factor.key() = fmt::format("factor_{}", to_string(Occasion::after));
    animal.attributes.insert(std::move(factor));
  }
}

} // namespace

void keep_day_of_one_sample(std::vector<RawAnimal>& animals, const TableWords& words,
                            Problems& problems) {
  std::set<int> days;
  bool told_apart = false;
  for (const RawAnimal& animal : animals)
    for (const auto& [key, count] : animal.counts)
      if (key.time.occasion == Occasion::after) {
        days.insert(key.time.day);
        told_apart = told_apart || !key.worm.empty();
      }
  if (days.size() != 1)
    return;
  const int day = *days.begin();
  if (day == 0)
    return;
  for (const RawAnimal& animal : animals)
    if (const auto told = animal.attributes.find(days_after);
        told != animal.attributes.end() && !trimmed(told->second.text).empty() &&
        time_under(told->second.head, told->second.text, words).day != day)
      problems.add_once("day of the second sample",
                        told->second.problem(in_quotes(told->second.text),
                                             fmt::format("day {}, which the counts' head tells, or "
                                                         "one of the two alone",
                                                         day)));
  const bool by_column = std::ranges::any_of(
      animals, [](const RawAnimal& animal) { return animal.attributes.contains(days_after); });
  if (day == usual_test_day || told_apart || by_column)
    for (RawAnimal& animal : animals)
      keep_day(animal, day);
}

} // namespace eggfall
