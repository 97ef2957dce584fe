#include "intake/understand.hpp"

#include "support/malformed_tables.hpp"
#include "support/support.hpp"
#include "trial/counts_table.hpp"

#include <fmt/format.h>

#include <map>

using namespace eggfall;

namespace {

/// What the strict reader refuses and this one reads, as what, and why that is right.
struct Understood {
  std::string animals; ///< "group/tag before after", of each.
  std::string why;
};

const std::map<std::string, Understood>& understood() {
  static const std::map<std::string, Understood> tables{
      {"Latin-1", {"A/café 5 1", "the encoding can be told, and is"}},
      {"a quote inside a cell",
       {"A/1\"x 5 1", "no cell starts with it, so that it is a part of a name"}},
      {"too few cells",
       {"A/1 5 -",
        "programs leave off empty cells at the end of a row: not sampled, as caveats say"}},
      {"no group column", {"all animals/1 5 1", "one treated group, which is told"}},
      {"no animal column",
       {"A/line 2 5 1", "both counts stand in one row, by which the animal is called; it is told"}},
      {"a column twice", {"A/1 5 1", "both say the same"}},
      {"eggs and EPG for one occasion",
       {"A/1 5 1", "they agree by the factor, and the eggs were seen"}},
      {"a count with a unit", {"A/1 5 1", "it is the unit of its column"}},
      {"a thousands separator", {"A/1 1234 1", "it has both marks, each in its place"}},
      {"two roles in a group",
       {"treated/1 5 1; control/2 5 1", "all rows have one group, of which some were left "
                                        "untreated: roles part it, which is told"}},
      {"two drenches in a group",
       {"white/1 5 1; yellow/2 5 1",
        "all rows have one group, and drenches are what is compared, which is told"}},
      {"a date the other way round", {"A/1 5 1", "no month is the 27th"}},
      {"a thousands comma", {"A/1 1250 1", "1.25 eggs cannot be seen; it is told"}},
      {"a thousands point in an EPG", {"A/1 25 1", "1.25 EPG is no egg at a factor of 50"}},
      {"a comment above the header", {"A/1 5 1", "titles stand above most tables"}},
      {"a kind of egg before alone",
       {"A/1 5 1", "the main counts are whole; that the kind is left out is told"}},
      {"a kind of egg after alone",
       {"A/1 5 1", "the main counts are whole; that the kind is left out is told"}},
      {"a kind of egg with a number",
       {"A/1 5 1", "the main counts are whole; that the kind is left out is told"}},
  };
  return tables;
}

std::string seen(const std::optional<Count>& count) {
  return count ? fmt::format("{}", count->eggs.value()) : "-";
}

std::string animals_of_all(const std::vector<Trial>& trials) {
  std::string list;
  for (const Trial& trial : trials)
    for (const Group& group : trial.groups)
      for (const Animal& animal : group.animals)
        list += fmt::format("{}{}/{} {} {}", list.empty() ? "" : "; ", group.name, animal.tag,
                            seen(animal.before), seen(animal.after));
  return list;
}

UnderstoodTables read(const MalformedTable& item) {
  return understand_tables({{item.table, "t.csv", "trial"}}, item.options, {});
}

} // namespace

TEST_CASE("A malformed table is refused where it is to be understood, unless it can be") {
  std::size_t found = 0;
  for (const MalformedTable& item : malformed_tables()) {
    INFO(item.name);
    const auto known = understood().find(item.name);
    if (known == understood().end()) {
      CHECK(!support::input_error([&] { read(item); }).empty());
      continue;
    }
    ++found;
    INFO(known->second.why);
    UnderstoodTables tables;
    CHECK_NOTHROW(tables = read(item));
    CHECK(animals_of_all(tables.table.trials) == known->second.animals);
    CHECK(!tables.all.empty());
  }
  CHECK(found == understood().size());
}

TEST_CASE("What is read loosely of a malformed table, and changes what is compared, is told") {
  const std::map<std::string, std::string> lines{
      {"Latin-1", "Windows-1252"},
      {"no group column", "one treated group"},
      {"no animal column", "called by their rows"},
      {"eggs and EPG for one occasion", "the eggs seen are read"},
      {"two roles in a group", "\"role\" names the groups"},
      {"two drenches in a group", "\"drench\" names the groups"},
      {"a thousands comma", "marks for thousands"},
      {"a kind of egg before alone", "told apart at one time alone"},
      {"a kind of egg after alone", "told apart at one time alone"},
      {"a kind of egg with a number", "told apart at one time alone"},
  };
  for (const MalformedTable& item : malformed_tables())
    if (const auto line = lines.find(item.name); line != lines.end()) {
      INFO(item.name);
      std::string told;
      for (const std::string& each : texts_of(read(item).all))
        told += each + '\n';
      CHECK_THAT(told, Catch::Contains(line->second));
    }
}
