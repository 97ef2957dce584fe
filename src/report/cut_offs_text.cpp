#include "report/cut_offs_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/version.hpp"
#include "formats/terminal_text.hpp"
#include "judgement/criteria_json.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/provenance_words.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

std::string joined(const std::vector<std::string>& items, std::string_view if_none) {
  std::string text;
  for (const std::string& item : items)
    text += (text.empty() ? "" : ", ") + item;
  return text.empty() ? std::string(if_none) : text;
}

std::string scope_text(const Scope& scope) {
  std::vector<std::string> classes;
  for (const DrugClass drug_class : scope.classes)
    classes.emplace_back(to_string(drug_class));
  return joined(scope.hosts, "any host") + "; " + joined(classes, "any class") + "; " +
         (scope.worm.empty() ? "any worm" : scope.worm);
}

std::string cited(const Citation& citation) {
  switch (citation.provenance) {
  case Provenance::published:
    return citation.source + " (published text)";
  case Provenance::memory:
    return fmt::format("{} ({})", citation.source, note_from_memory);
  case Provenance::practice:
    return citation.source + " (common practice, no source)";
  case Provenance::user:
    break;
  }
  return citation.source + " (your own)";
}

std::string rule_text(const Criteria& criteria) {
  const std::string level = fmt::format("{:g}%", 100 * criteria.level);
  switch (criteria.rule) {
  case Rule::two_one_sided:
    return "Lower limit of the " + level +
           " interval at or above the lower threshold: evidence of good efficacy. Upper limit "
           "below the expected efficacy: evidence of resistance. The first alone: susceptible. "
           "The second alone: resistant. Both: low resistant. Neither: inconclusive.";
  case Rule::reduction_and_lower_limit:
    return "Reduction below the first cut-off and lower limit of the " + level +
           " interval below the second: resistant. One of the two: suspected. Neither: "
           "susceptible.";
  case Rule::reduction_alone:
    break;
  }
  return "Reduction below the cut-off: resistant; otherwise susceptible. No account is taken of "
         "chance.";
}

/// "5 animals or pools", "one in 3"
std::string amount(const PracticeThreshold& row) {
  return row.unit == "one in so many" ? fmt::format("one in {:g}", row.value)
                                      : fmt::format("{:g} {}", row.value, row.unit);
}

} // namespace

std::string cut_offs_list(const CutOffs& cut_offs) {
  const TerminalTable table{0, 22, {{28, Side::left}, {}}};
  std::string out = table.row("name", {"criteria", "rule"});
  for (const Criteria& criteria : cut_offs.criteria)
    out += table.row(criteria.name, {criteria.title, std::string(to_string(criteria.rule))});
  out += heading("Second sample, days after treatment");
  for (const SamplingWindow& window : cut_offs.windows) {
    const std::string which =
        std::string(to_string(window.drug_class)) +
        (window.drench_contains.empty() ? "" : " (" + window.drench_contains + ")");
    out += paragraph(fmt::format("{}: {} to {}. {}", which, window.first_day, window.last_day,
                                 cited(window.citation)),
                     "  ");
  }
  return out +
         "\nFor one in full: eggfall cutoffs NAME; for thresholds of field practice: eggfall\n"
         "cutoffs field-practice\n";
}

std::string field_practice_explained() {
  std::string out =
      "Thresholds of field practice: of bars, caveats and advice, where no rule says\n"
      "any (docs/bars.md)\n";
  for (const PracticeThreshold& row : field_practice().rows)
    out += '\n' + paragraph(fmt::format("{}: {}. {} {}", row.name, amount(row), row.what,
                                        cited(row.citation)),
                            "  ");
  return out;
}

std::string field_practice_table() {
  std::string out = "| name | value | unit | what it decides | source | provenance |\n"
                    "|---|---|---|---|---|---|\n";
  for (const PracticeThreshold& row : field_practice().rows)
    out += fmt::format("| {} | {:g} | {} | {} | {} | {} |\n", row.name, row.value, row.unit,
                       row.what, row.citation.source, to_string(row.citation.provenance));
  return out;
}

std::string criteria_explained(const Criteria& criteria) {
  std::string out = fmt::format("{} ({})\n", criteria.title, criteria.name);
  out += paragraph(cited(criteria.citation), "  ");
  out += heading("Rule: " + std::string(to_string(criteria.rule)));
  out += paragraph(rule_text(criteria), "  ");
  if (criteria.rule != Rule::reduction_alone)
    out += paragraph("Interval: " +
                         (criteria.method ? std::string(title(*criteria.method))
                                          : std::string("the guarded posterior")) +
                         ".",
                     "  ");
  out += heading("Cut-offs (the first that fits a group is used)");
  for (const CutOff& row : criteria.cut_offs) {
    std::string text = fmt::format("{}: expected {:g}%", scope_text(row.scope), 100 * row.expected);
    if (row.lower)
      text += fmt::format(", lower {:g}%", 100 * *row.lower);
    if (row.citation.source != criteria.citation.source)
      text += ". " + cited(row.citation);
    out += paragraph(text, "  ");
  }
  if (!criteria.minima.empty())
    out += heading("The least that is asked for");
  for (const Minimum& row : criteria.minima) {
    std::vector<std::string> asks;
    if (row.animals)
      asks.push_back(fmt::format("{:g} animals a group", *row.animals));
    if (row.better_animals)
      asks.push_back(fmt::format("better {:g}", *row.better_animals));
    if (row.mean_epg)
      asks.push_back(fmt::format("a mean of {:g} EPG before treatment", *row.mean_epg));
    if (row.eggs_counted_per_animal)
      asks.push_back(fmt::format("{:g} eggs counted an animal, on average, before treatment",
                                 *row.eggs_counted_per_animal));
    out += paragraph(
        scope_text(row.scope) + ": " + joined(asks, "nothing") + ". " + cited(row.citation), "  ");
  }
  return out;
}

std::string cut_offs_json(const CutOffs& cut_offs) {
  Json json{{"schema", "eggfall.cut-offs-list/1"},
            {"version", version()},
            {"criteria", Json::array()},
            {"sampling_windows", Json::array()},
            {"field_practice", Json::array()}};
  for (const Criteria& criteria : cut_offs.criteria) {
    Json item = criteria_json(criteria);
    item["minima"] = Json::array();
    for (const Minimum& row : criteria.minima) {
      Json entry = scope_json(row.scope);
      entry["animals"] = or_null(row.animals);
      entry["better_animals"] = or_null(row.better_animals);
      entry["mean_epg"] = or_null(row.mean_epg);
      entry["eggs_counted_per_animal"] = or_null(row.eggs_counted_per_animal);
      add_citation(entry, row.citation);
      item["minima"].push_back(std::move(entry));
    }
    json["criteria"].push_back(std::move(item));
  }
  for (const SamplingWindow& window : cut_offs.windows) {
    Json entry{{"drug_class", to_string(window.drug_class)},
               {"drench_contains",
                window.drench_contains.empty() ? Json(nullptr) : Json(window.drench_contains)},
               {"first_day", window.first_day},
               {"last_day", window.last_day}};
    add_citation(entry, window.citation);
    json["sampling_windows"].push_back(std::move(entry));
  }
  for (const PracticeThreshold& row : field_practice().rows) {
    Json entry{{"name", row.name}, {"value", row.value}, {"unit", row.unit}, {"what", row.what}};
    add_citation(entry, row.citation);
    json["field_practice"].push_back(std::move(entry));
  }
  return json.dump(2) + "\n";
}

std::string check_note(const std::vector<std::string>& titles) {
  if (titles.empty())
    return {};
  std::string list;
  for (const std::string& name : titles)
    list += (list.empty() ? "" : "; ") + name;
  return paragraph(
      "Cut-offs noted from memory, to be checked against the published guideline: " + list + ".");
}

} // namespace eggfall
