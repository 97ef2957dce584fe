#include "judgement/reappearance_rows.hpp"

#include "base/date.hpp"
#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "formats/toml_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace eggfall {
namespace {

constexpr std::string_view reappearance_schema = "eggfall.egg-reappearance/1";
constexpr int last_week_of_all = latest_visit_day / days_a_week; // in whole weeks

Citation cited(const Section& section) {
  const std::string word = section.needed_text("provenance");
  const auto provenance = parse_provenance(word);
  if (!provenance || *provenance == Provenance::user)
    section.refuse_key("provenance", in_quotes(word), "published, memory or practice");
  return {section.needed_text("source"), *provenance};
}

ReappearanceDefinition read_definition(const Section& section) {
  section.allow_only({"text", "threshold_percent", "source", "provenance"});
  const auto threshold = section.percent("threshold_percent");
  if (!threshold)
    section.refuse("no key threshold_percent", "threshold_percent = 90, for example");
  return {section.needed_text("text"), *threshold, cited(section)};
}

int week(const Section& section, std::string_view key) {
  const auto value = section.number(key, 1, last_week_of_all);
  if (!value || *value != static_cast<int>(*value))
    section.refuse(fmt::format("no whole number {}", key), fmt::format("{} = 6, for example", key));
  return static_cast<int>(*value);
}

ReappearanceRow read_row(const Section& section) {
  section.allow_only({"host", "worm", "drug_class", "drench_contains", "of", "first_week",
                      "last_week", "source", "provenance"});
  ReappearanceRow row;
  for (const std::string& host : section.texts("host"))
    row.scope.hosts.push_back(canonical_host(host));
  row.scope.worm = canonical_worm(section.needed_text("worm"));
  const std::string word = section.needed_text("drug_class");
  const auto drug_class = parse_drug_class(word);
  if (!drug_class)
    section.refuse_key("drug_class", in_quotes(word), "BZ, LV, ML, AD, SI or PYR");
  row.scope.classes = {*drug_class};
  row.drench_contains = lower_case(section.text("drench_contains").value_or(""));
  row.weeks = {week(section, "first_week"), week(section, "last_week"), section.needed_text("of"),
               cited(section)};
  if (row.weeks.first > row.weeks.last)
    section.refuse(fmt::format("week {} to week {}", row.weeks.first, row.weeks.last),
                   "the first week no later than the last");
  return row;
}

bool is_for_host(const ReappearanceRow& row, const Group& group) {
  return std::ranges::find(row.scope.hosts, group.host) != row.scope.hosts.end();
}

} // namespace

ReappearanceRows read_egg_reappearance(std::string_view toml, const std::string& source) {
  return read_toml(toml, source, reappearance_schema, [&](const Section& root) {
    root.allow_only({"schema", "definition", "expected"});
    ReappearanceRows rows;
    bool defined = false;
    root.each("definition", [&](const Section& section) {
      if (defined)
        section.refuse("a second definition", "one");
      rows.definition = read_definition(section);
      defined = true;
    });
    if (!defined)
      root.refuse("no definition", "a section headed [[definition]]");
    root.each("expected", [&](const Section& section) { rows.rows.push_back(read_row(section)); });
    return rows;
  });
}

const ReappearanceRows& published_egg_reappearance() {
  static const ReappearanceRows rows =
      read_egg_reappearance(published_egg_reappearance_toml(), "published egg reappearance");
  return rows;
}

bool is_host_of_reappearance(const ReappearanceRows& rows, const Group& group) {
  return std::ranges::any_of(rows.rows,
                             [&](const ReappearanceRow& row) { return is_for_host(row, group); });
}

bool is_worm_of_reappearance(const ReappearanceRows& rows, const Group& group) {
  return std::ranges::any_of(rows.rows, [&](const ReappearanceRow& row) {
    return is_for_host(row, group) && row.scope.worm == group.worm;
  });
}

std::optional<ExpectedWeeks> expected_weeks(const ReappearanceRows& rows, const Group& group) {
  const std::string drench = lower_case(group.drench + " " + group.name);
  for (const ReappearanceRow& row : rows.rows) {
    const bool named =
        !row.drench_contains.empty() && drench.find(row.drench_contains) != std::string::npos;
    const bool fits_class = group.classes.empty() ? named : group.classes == row.scope.classes;
    if (is_for_host(row, group) && row.scope.worm == group.worm && fits_class &&
        (row.drench_contains.empty() || named))
      return row.weeks;
  }
  return std::nullopt;
}

} // namespace eggfall
