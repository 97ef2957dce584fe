#include "intake/reading_text.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "formats/terminal_text.hpp"
#include "trial/visits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <map>
#include <optional>
#include <set>

namespace eggfall {
namespace {

/// What was seen in the samples of one time: "1234 eggs seen in 12 samples, factor 15".
class SamplesSeen {
public:
  void add(const Count& count) {
    eggs_ += count.eggs.value();
    ++samples_;
    factors_.insert(count.factor.value());
  }

  std::string text() const {
    if (samples_ == 0)
      return "no sample";
    return fmt::format("{} egg{} seen in {} sample{}, factor {}", eggs_, plural(eggs_), samples_,
                       plural(samples_), fmt::join(factors_, " and "));
  }

private:
  std::uint64_t eggs_ = 0;
  std::size_t samples_ = 0;
  std::set<double> factors_;
};

std::string samples_text(const Group& group, std::optional<Count> Animal::*count_of) {
  SamplesSeen seen;
  for (const Animal& animal : group.animals)
    if (const std::optional<Count>& count = animal.*count_of)
      seen.add(*count);
  return seen.text();
}

/// " (day 14)"; empty where no column and no head tells it.
std::string days_text(const Group& group) {
  std::set<int> days;
  for (const Animal& animal : group.animals)
    if (animal.days_after)
      days.insert(*animal.days_after);
  return days.empty() ? std::string() : fmt::format(" (day {})", fmt::join(days, ", "));
}

/// A line for each visit.
std::string visits_text(const Group& group) {
  std::map<int, SamplesSeen> seen;
  for (const Animal& animal : group.animals)
    for (const Visit& visit : animal.visits)
      seen[visit.day].add(visit.count);
  std::string out;
  for (const auto& [day, samples] : seen)
    out += paragraph(fmt::format("day {}: {}", day, samples.text()), "    ");
  return out;
}

std::string group_text(const Group& group) {
  std::string name = group.name;
  if (group.role == Role::control)
    name += " (untreated control)";
  std::string out =
      fmt::format("  {}, {} animal{}\n", name, group.animals.size(), plural(group.animals.size()));
  out += paragraph("before: " + samples_text(group, &Animal::before), "    ");
  const std::string visits = visits_text(group);
  if (visits.empty() || has_own_after(group)) {
    const std::string day = days_text(group);
    out += paragraph(fmt::format("after{}: {}", day, samples_text(group, &Animal::after)), "    ");
  }
  return out + visits;
}

std::string bulleted(const std::vector<std::string>& lines) {
  std::string out;
  for (const std::string& line : lines)
    out += hanging("- ", line);
  return out;
}

} // namespace

std::string reading_text(const UnderstoodTables& tables, const SettingNames& names) {
  std::string out = tables.all.empty()
                        ? "Counts tables in our own form: nothing to be understood.\n"
                        : "Understood\n" + bulleted(texts_of(tables.all, names));
  if (!tables.table.notes.empty())
    out += "\nNoticed\n" + bulleted(tables.table.notes);
  for (const Trial& trial : tables.table.trials) {
    out += fmt::format("\nTrial {}\n", trial.name);
    for (const Group& group : trial.groups)
      out += group_text(group);
  }
  return out + '\n' +
         paragraph("Compare these numbers with the table. If one is wrong, --table FILE writes the "
                   "counts as they were read, to be mended by hand.");
}

} // namespace eggfall
