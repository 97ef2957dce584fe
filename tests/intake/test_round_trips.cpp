#include "eggfall/judgement/analyse.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "intake/open_question.hpp"
#include "intake/understand.hpp"
#include "trial/counts_table.hpp"

#include "support/support.hpp"
#include "support/untidy_table.hpp"

#include <fmt/format.h>

#include <algorithm>

using namespace eggfall;

namespace {

constexpr std::uint64_t seed = 20311;
constexpr std::uint32_t combinations = 40;

void say(Layout& layout, const LayoutSetting& setting) {
  if (setting.key == "dates")
    layout.dates = parse_date_order(setting.value);
  else if (setting.key == "cell")
    add_cell(layout, setting.value);
  else if (setting.key == "counts")
    layout.counts = parse_count_unit(setting.value);
  else if (setting.key == "occasions")
    layout.occasions = {Occasion::before, Occasion::after};
  else
    FAIL("no answer of a test: " << setting.key);
}

/// With all answers but the one of this key.
Layout layout_without(const UntidyTable& table, const std::string& key) {
  Layout layout;
  for (const LayoutSetting& setting : table.answers)
    if (setting.key != key)
      say(layout, setting);
  return layout;
}

/// The keys of all answers to the question that is asked; a refusal that is no question; or
/// nothing.
std::vector<std::string> keys_asked_for(const UntidyTable& table, const Layout& layout) {
  try {
    understand_tables(table.tables, table.options, layout);
  } catch (const OpenQuestion& question) {
    std::vector<std::string> keys;
    for (const LayoutAnswer& answer : question.answers())
      for (const LayoutSetting& setting : answer.settings)
        keys.push_back(setting.key);
    return keys;
  } catch (const InputError& error) {
    return {error.what()};
  }
  return {};
}

/// Nothing, and a failed check, if the table is not read.
std::optional<UnderstoodTables> understood(const UntidyTable& table) {
  try {
    return understand_tables(table.tables, table.options, layout_without(table, {}));
  } catch (const InputError& error) {
    FAIL_CHECK(error.what());
    return std::nullopt;
  }
}

/// As a counts table has it, and with what a table tells of its own places left out.
Trial in_our_form(const UntidyTable& table) {
  TrialTable read = read_trials(counts_table({table.trial}), "ours.csv", table.options);
  REQUIRE(read.trials.size() == 1);
  return read.trials[0];
}

void take_tags(Trial& trial, const Trial& from) {
  for (std::size_t g = 0; g < trial.groups.size() && g < from.groups.size(); ++g)
    for (std::size_t i = 0; i < trial.groups[g].animals.size(); ++i) {
      REQUIRE(i < from.groups[g].animals.size());
      trial.groups[g].animals[i].tag = from.groups[g].animals[i].tag;
    }
}

/// The first line in which two texts differ, as both have it; empty if none does.
std::string first_difference(const std::string& a, const std::string& b) {
  const auto [in_a, in_b] = std::ranges::mismatch(a, b);
  if (in_a == a.end() && in_b == b.end())
    return {};
  const auto line = [](const std::string& text, std::size_t position) {
    const std::size_t start = position == 0 ? 0 : text.rfind('\n', position - 1) + 1;
    return text.substr(start, text.find('\n', position) - start);
  };
  const auto position = static_cast<std::size_t>(in_a - a.begin());
  return line(a, position) + "\n" + line(b, position);
}

std::string analysed(Trial trial) {
  trial.reading.clear();
  for (Group& group : trial.groups)
    for (Animal& animal : group.animals)
      animal.line = 0;
  AnalysisSettings settings;
  return analysis_json({analyse(trial, published_cut_offs(), settings)}, settings);
}

} // namespace

TEST_CASE("A trial comes back out of a table as its owner keeps it") {
  for (std::uint32_t number = 0; number < combinations; ++number) {
    const UntidyTable table = untidy_table(seed, number);
    INFO(number << ": " << table.combination << "\n"
                << (table.tables[0].bytes.starts_with("PK") ? "" : table.tables[0].bytes));
    for (const LayoutSetting& setting : table.answers) {
      INFO("without " << setting.key);
      const auto keys = keys_asked_for(table, layout_without(table, setting.key));
      CHECK_THAT(keys, Catch::VectorContains(setting.key));
    }
    const auto read = understood(table);
    if (!read)
      continue;
    REQUIRE(read->table.trials.size() == 1);
    const Trial& trial = read->table.trials[0];
    CHECK(!trial.reading.empty());
    Trial expected = in_our_form(table);
    if (!table.names_animals)
      take_tags(expected, trial);
    CHECK(first_difference(counts_table({trial}), counts_table({expected})) == "");
    CHECK(first_difference(analysed(trial), analysed(expected)) == "");
  }
}

TEST_CASE("Animals without names are called by their rows") {
  std::size_t seen = 0;
  for (std::uint32_t number = 0; number < combinations; ++number) {
    const UntidyTable table = untidy_table(seed, number);
    if (table.names_animals)
      continue;
    ++seen;
    INFO(number << ": " << table.combination);
    const auto read = understand_tables(table.tables, table.options, layout_without(table, {}));
    for (const Group& group : read.table.trials.at(0).groups)
      for (const Animal& animal : group.animals) {
        const bool row = animal.tag == fmt::format("line {}", animal.line) ||
                         animal.tag == fmt::format("row {}", animal.line);
        CHECK(row);
      }
  }
  CHECK(seen >= combinations / untidy_shapes);
}
