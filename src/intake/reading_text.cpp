#include "intake/reading_text.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <optional>
#include <set>

namespace eggfall {
namespace {

/// "1,234 eggs in 12 samples, factor 15"
std::string samples_text(const Group& group, std::optional<Count> Animal::*of) {
  std::uint64_t eggs = 0;
  std::size_t samples = 0;
  std::set<double> factors;
  for (const Animal& animal : group.animals)
    if (const std::optional<Count>& count = animal.*of) {
      eggs += count->eggs.value();
      ++samples;
      factors.insert(count->factor.value());
    }
  if (samples == 0)
    return "no sample";
  return fmt::format("{} egg{} seen in {} sample{}, factor {}", eggs, eggs == 1 ? "" : "s", samples,
                     samples == 1 ? "" : "s", fmt::join(factors, " and "));
}

std::string group_text(const Group& group) {
  std::string name = group.name;
  if (group.role == Role::control)
    name += " (untreated control)";
  std::string out = fmt::format("  {}, {} animal{}\n", name, group.animals.size(),
                                group.animals.size() == 1 ? "" : "s");
  return out + paragraph("before: " + samples_text(group, &Animal::before), screen_width, "    ") +
         paragraph("after: " + samples_text(group, &Animal::after), screen_width, "    ");
}

std::string listed(const std::vector<std::string>& lines) {
  std::string out;
  for (const std::string& line : lines) {
    const std::string text = paragraph(line, screen_width, "  ");
    out += "- " + text.substr(2);
  }
  return out;
}

} // namespace

std::string reading_text(const UnderstoodTables& tables) {
  std::string out = tables.all.empty()
                        ? "Counts tables in our own form: nothing to be understood.\n"
                        : "Understood\n" + listed(tables.all);
  if (!tables.table.notes.empty())
    out += "\nNoticed\n" + listed(tables.table.notes);
  for (const Trial& trial : tables.table.trials) {
    out += fmt::format("\nTrial {}\n", trial.name);
    for (const Group& group : trial.groups)
      out += group_text(group);
  }
  return out + '\n' +
         paragraph("Compare these numbers with the table. If one is wrong, --table FILE writes the "
                   "counts as they were read, to be mended by hand.",
                   screen_width);
}

} // namespace eggfall
