#include "survey/survey_words.hpp"

#include "base/number_words.hpp"
#include "eggfall/base/error.hpp"
#include "report/cut_offs_text.hpp"
#include "survey/region_picture.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {

std::vector<VerdictColumn> verdict_columns(Rule rule) {
  std::vector<VerdictColumn> columns{{{VerdictClass::susceptible}, "susc.", "susceptible"}};
  if (rule == Rule::two_one_sided)
    columns.push_back({{VerdictClass::low_resistant}, "low", "low resistant"});
  columns.push_back({{VerdictClass::resistant}, "res.", "resistant"});
  columns.push_back({{VerdictClass::inconclusive, VerdictClass::suspected}, "open", "open"});
  return columns;
}

std::uint64_t groups_in(const VerdictColumn& column, const VerdictTally& tally) {
  std::uint64_t groups = 0;
  for (const VerdictClass each : column.classes)
    groups += tally[static_cast<std::size_t>(each)];
  return groups;
}

std::string stratum_name(const Stratum& stratum) {
  if (stratum.empty())
    return "all groups";
  std::vector<std::string> values;
  for (const std::string& value : stratum)
    values.push_back(value.empty() ? "not given" : value);
  return fmt::format("{}", fmt::join(values, ", "));
}

std::string breakdown_name(const std::vector<SurveyField>& fields) {
  std::vector<std::string> names;
  for (const SurveyField field : fields)
    names.emplace_back(to_string(field));
  return fmt::format("by {}", fmt::join(names, ", "));
}

bool says_something(const Breakdown& breakdown) {
  return std::ranges::any_of(breakdown.strata, [](const auto& entry) {
    return std::ranges::any_of(entry.first,
                               [](const std::string& value) { return !value.empty(); });
  });
}

std::string of_100_with_limits(const Proportion& share) {
  return share.value ? fmt::format("{:.0f} ({:.0f} to {:.0f})", 100 * *share.value,
                                   100 * *share.lower, 100 * *share.upper)
                     : std::string("-");
}

std::string of_100(const Proportion& share) {
  return share.value ? fmt::format("{:.0f}", 100 * *share.value) : std::string("-");
}

std::string shares_note(Rule rule) {
  return fmt::format(
      "Resistant: of 100 groups with a class, those {}resistant, with {:g}% limits (Jeffreys). An "
      "open group may be either; most: the share if every open one were resistant.",
      rule == Rule::two_one_sided ? "resistant or low " : "", 100 * StratumSummary::level);
}

std::string bar_words(BarCode code) {
  switch (code) {
  case BarCode::not_covered:
    return "no rule here is for these worms or this host";
  case BarCode::units_in_doubt:
    return "the numbers look like EPG typed as eggs, or before and after swapped";
  case BarCode::day:
    return "sampled on a day when a fall does not show what the drench did";
  case BarCode::control:
    return "with the season taken out, as untreated animals tell it, the class differs";
  case BarCode::missing:
    return "the class hangs on animals that were not found again";
  case BarCode::dose:
    return "the doses given explain the fall, or the lack of it";
  case BarCode::goat_dose:
    return "goats that a dose made for sheep did not clear";
  case BarCode::few_animals:
    return "fewer than five animals";
  case BarCode::few_eggs:
    return "luck in counting so few eggs alone could give this";
  case BarCode::narrow_drench:
    return "the drench is not for all worms, and they were not told apart";
  case BarCode::surviving_worm:
    return "a worm told from the others survives";
  }
  throw CalculationError("a bar without words");
}

std::string barred_note(const Survey& survey) {
  std::uint64_t all = 0;
  std::vector<std::string> reasons;
  for (const BarCode code : all_bar_codes)
    if (const std::uint64_t groups = survey.barred[static_cast<std::size_t>(code)]; groups > 0) {
      all += groups;
      reasons.push_back(fmt::format("{} {}", to_string(code), groups));
    }
  if (all == 0)
    return {};
  return fmt::format("{} barred from the class of {} counts, or from any, by a flaw of the trial "
                     "(docs/bars.md): {}.",
                     all == 1 ? "1 group is" : fmt::format("{} groups are", all),
                     all == 1 ? "its" : "their", fmt::join(reasons, ", "));
}

std::string sampling_note() {
  return "These are the farms that sent counts, and those are no random sample: many test because "
         "they worry. The limits allow for chance alone, not for that choice, nor for several "
         "groups that share a farm.";
}

std::string kinds_note(const SurveySize& surveyed) {
  const std::uint64_t apart = surveyed.groups_with_kinds;
  if (apart == 0)
    return {};
  return fmt::format("{} group{} {} eggs of a kind of worm counted apart. The counts leave such "
                     "eggs out (the rows name them); a kind that survives makes its group "
                     "resistant.",
                     apart, plural(apart), apart == 1 ? "has" : "have");
}

std::string number_below(const GroupsBelow& groups) {
  if (groups.upper == 0)
    return "0 (none likely)";
  return fmt::format("{:.0f} ({} to {})", groups.mean, groups.lower, groups.upper);
}

std::string pictures_note() {
  return fmt::format(
      "Limits of {:g}%. Where many farms lie close to a threshold these may still be too few "
      "(docs/methods.md): read them as at least. Tests of one farm in "
      "several years count as if of several farms, so the limits are too narrow for farms. Groups "
      "that a flaw bars from showing the drench's "
      "own fall are left out. No farm's own standing is changed by this.",
      100 * RegionPicture::level);
}

std::string survey_next_step(const StratumSummary& all) {
  if (all.judged == 0)
    return "Next: no group could be judged. Read the column reason in the survey's CSV of groups, "
           "and mend the table.";
  std::string text = "Next: before a group's class is acted on, look at its trial with eggfall "
                     "analyse, which also tells what is weak in it (doses, days, few eggs).";
  const double open = *all.at_most.value - *all.resistant.value;
  constexpr double many = 0.25;
  if (open > many)
    text += fmt::format(" {:.0f} of 100 groups are open: ask for more animals or a finer count; "
                        "eggfall audit shows how many it takes.",
                        100 * open);
  return text;
}

std::string level_text(const Criteria& criteria) {
  if (criteria.rule == Rule::reduction_alone)
    return "no interval";
  return fmt::format("{:g}% intervals ({})", 100 * criteria.level,
                     title(criteria.method.value_or(Method::guarded_posterior)));
}

std::string memory_note(const Criteria& criteria) {
  const bool from_memory = std::ranges::any_of(criteria.cut_offs, [](const CutOff& row) {
    return row.citation.provenance == Provenance::memory;
  });
  return from_memory ? check_note({criteria.title}) : std::string();
}

} // namespace eggfall
