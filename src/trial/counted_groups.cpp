#include "trial/counted_groups.hpp"

#include "base/problems.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "formats/table_limits.hpp"
#include "trial/missing_factor.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <array>
#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view counts_in_memory = "counts in memory";
constexpr std::string_view before_column = "eggs_before";
constexpr std::string_view after_column = "eggs_after";

/// A member of a group that a cell holds as text.
struct TextMember {
  std::string_view name;
  std::string CountedGroup::*text;
};

constexpr std::array text_members{TextMember{"name", &CountedGroup::name},
                                  TextMember{"drench", &CountedGroup::drench},
                                  TextMember{"worm", &CountedGroup::worm}};

/// By its place among the groups, from 1, if it has no name.
std::string label_of(const CountedGroup& group, std::size_t place) {
  const std::string name = normalised(group.name);
  return name.empty() ? fmt::format("group {}", place) : fmt::format("group {}", in_quotes(name));
}

/// What reading bytes would refuse before a cell is looked at.
void check_texts(const CountedGroup& group, const Source& source, Problems& problems) {
  for (const TextMember& member : text_members) {
    const std::string& text = group.*member.text;
    if (first_invalid_utf8(text))
      problems.add({source, 0, 0, std::string(member.name), in_quotes(text), "text in UTF-8"});
    else if (text.size() > longest_cell)
      problems.add({source, 0, 0, std::string(member.name), fmt::format("{} bytes", text.size()),
                    fmt::format("at most {}", longest_cell)});
  }
}

void check_counts(const CountedGroup& group, const Source& source, Problems& problems) {
  const std::size_t before = group.eggs_before.size();
  const std::size_t after = group.eggs_after.size();
  if (before != after)
    problems.add({source, 0, 0, std::string(after_column),
                  fmt::format("{} counts beside {} in {}", after, before, before_column),
                  "as many, index by index of the same animals (an empty one for an animal that "
                  "was not sampled)"});
  else if (before == 0)
    problems.add({source, 0, 0, std::string(before_column), "no count", "one for each animal"});
}

/// The name as it is kept. In a table a second group of one name would be more animals of the
/// first, and a group that is called a sum would be passed over: neither may happen unseen.
std::string checked_name(const CountedGroup& group, const Source& source,
                         std::set<std::string>& names, Problems& problems) {
  std::string name = normalised(group.name);
  const auto refuse = [&](std::string found, std::string expected) {
    problems.add({source, 0, 0, "name", std::move(found), std::move(expected)});
  };
  if (name.empty())
    refuse("nothing", "a name");
  else if (is_sum_word(name))
    refuse(in_quotes(name), "another name (tables say this of a sum)");
  else if (!names.insert(name).second)
    refuse(in_quotes(name) + " again", "each group once, with all of its animals");
  return name;
}

std::string cell_of(const std::optional<double>& eggs) {
  return eggs ? fmt::format("{}", *eggs) : std::string();
}

void check_size(const std::vector<CountedGroup>& groups, std::size_t columns, Problems& problems) {
  std::size_t animals = 0;
  for (const CountedGroup& group : groups)
    animals += group.eggs_before.size();
  const Source source{std::string(counts_in_memory)};
  if (groups.empty())
    problems.add({source, 0, 0, {}, "no group", "a treated group, and perhaps a control"});
  else if (const auto problem = too_many(source, animals, animals * columns))
    problems.give_up(*problem);
}

} // namespace

Table table_of(const std::vector<CountedGroup>& groups) {
  Table table;
  table.source = std::string(counts_in_memory);
  table.header.cells = {"group",
                        "animal",
                        "role",
                        "drench",
                        "class",
                        "worm",
                        std::string(before_column),
                        std::string(after_column)};
  Problems problems;
  check_size(groups, table.header.cells.size(), problems);
  std::set<std::string> names;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const CountedGroup& group = groups[i];
    const Source source = label_of(group, i + 1);
    check_texts(group, source, problems);
    check_counts(group, source, problems);
    const std::string name = checked_name(group, source, names, problems);
    if (problems.any())
      continue; // the lengths may differ
    const std::string role(group.role ? to_string(*group.role) : "");
    for (std::size_t animal = 0; animal < group.eggs_before.size(); ++animal)
      table.rows.push_back({table.rows.size() + 1,
                            {name, fmt::format("{}", animal + 1), role, normalised(group.drench),
                             to_string(group.classes), normalised(group.worm),
                             cell_of(group.eggs_before[animal]), cell_of(group.eggs_after[animal])},
                            {}});
  }
  problems.throw_if_any();
  return table;
}

InputError told_of_groups(const InputError& error, const std::vector<CountedGroup>& groups) {
  std::vector<Problem> problems = error.problems();
  for (Problem& problem : problems) {
    std::size_t animal = problem.line; // among those of this group and of all after it
    for (std::size_t i = 0; animal > 0 && i < groups.size(); ++i) {
      const std::size_t animals = groups[i].eggs_before.size();
      if (animal <= animals) {
        problem.source = fmt::format("{}, animal {}", label_of(groups[i], i + 1), animal);
        break;
      }
      animal -= animals;
    }
    problem.line = 0;
    problem.column = 0;
    if (problem.found == count_without_factor)
      problem.expected = Mention{problem.column_name == before_column ? Setting::factor_before
                                                                      : Setting::factor_after} +
                         Wording(", the EPG that one egg seen stands for");
  }
  return problems.empty() ? error : InputError(std::move(problems));
}

} // namespace eggfall
