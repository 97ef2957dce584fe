#include "eggfall/survey/survey.hpp"

#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/version.hpp"
#include "survey/region_picture.hpp"
#include "trial/egg_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <functional>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<SurveyField, 7> field_names{{
    {SurveyField::drench, "drench"},
    {SurveyField::drug_class, "class"},
    {SurveyField::host, "host"},
    {SurveyField::worm, "worm"},
    {SurveyField::farm, "farm"},
    {SurveyField::region, "region"},
    {SurveyField::year, "year"},
}};

void add(SurveySize& size, const SurveySize& more) {
  size.trials += more.trials;
  size.groups += more.groups;
  size.animals += more.animals;
  size.groups_with_kinds += more.groups_with_kinds;
}

void add(Breakdown& breakdown, const Breakdown& more) {
  for (const auto& [stratum, tally] : more.strata)
    eggfall::add(breakdown.strata[stratum], tally);
}

std::string breakdown_text(const std::vector<SurveyField>& fields) {
  std::string text;
  for (const SurveyField field : fields)
    text += (text.empty() ? "" : ",") + std::string(to_string(field));
  return text;
}

/// What all parts of a survey must have alike.
bool alike(const Survey& a, const Survey& b) {
  return a.version == b.version && a.shard.count == b.shard.count &&
         std::ranges::equal(a.tables, b.tables, {}, &SurveyTable::name, &SurveyTable::name) &&
         a.in_tables == b.in_tables && a.settings == b.settings && a.reading == b.reading &&
         std::ranges::equal(a.breakdowns, b.breakdowns, {}, &Breakdown::fields, &Breakdown::fields);
}

} // namespace

std::string_view to_string(SurveyField field) {
  return name_of(field_names, field, "a field of a survey");
}

std::optional<SurveyField> parse_survey_field(std::string_view name) {
  return value_named(field_names, name);
}

std::vector<SurveyField> parse_breakdown(std::string_view text) {
  std::vector<SurveyField> fields;
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t end = std::min(text.find(',', start), text.size());
    const std::string_view name = trimmed(text.substr(start, end - start));
    const auto field = parse_survey_field(name);
    if (!field)
      refuse_setting(Setting::breakdown, in_quotes(name),
                     "drench, class, host, worm, farm, region or year, or several of them joined "
                     "by commas");
    fields.push_back(*field);
    start = end + 1;
  }
  return fields;
}

std::string value_of(SurveyField field, const Group& group) {
  switch (field) {
  case SurveyField::drench:
    return group.drench;
  case SurveyField::farm:
    return group.farm;
  case SurveyField::drug_class:
    return to_string(group.classes);
  case SurveyField::host:
    return group.host;
  case SurveyField::worm:
    return group.worm;
  case SurveyField::region:
    return group.region;
  case SurveyField::year:
    return group.year ? fmt::format("{}", *group.year) : std::string();
  }
  throw CalculationError("a field of a survey without a value");
}

void add(SurveySize& size, const Trial& trial) {
  ++size.trials;
  for (const Group& group : trial.groups) {
    size.groups += group.role == Role::treated ? 1 : 0;
    size.animals += group.animals.size();
    size.groups_with_kinds +=
        group.role == Role::treated && !kinds_told_apart(group).empty() ? 1 : 0;
  }
}

Survey empty_survey(SurveySettings settings, Shard shard,
                    std::vector<std::vector<SurveyField>> breakdowns) {
  if (breakdowns.empty())
    for (const SurveyField field : usual_survey_fields)
      breakdowns.push_back({field});
  Survey survey;
  survey.version = version();
  survey.settings = std::move(settings);
  survey.settings.criteria.minima.clear();
  survey.shard = shard;
  survey.all.strata[{}]; // there even if no group is
  for (const std::vector<SurveyField>& fields : breakdowns) {
    for (const SurveyField field : fields)
      if (std::ranges::count(fields, field) > 1)
        refuse_setting(Setting::breakdown, breakdown_text(fields), "each field once");
    if (std::ranges::count(breakdowns, fields) > 1)
      refuse_setting(Setting::breakdown, breakdown_text(fields) + " twice", "each breakdown once");
    survey.breakdowns.push_back({fields, {}});
  }
  return survey;
}

bool ShardOfTrials::takes(const Trial& trial, std::uint64_t trial_number) {
  const std::string& farm = trial.groups.empty() ? std::string() : trial.groups.front().farm;
  const std::uint64_t number =
      farm.empty() ? trial_number : first_of_farm_.emplace(farm, trial_number).first->second;
  return number % shard_.count == shard_.index % shard_.count;
}

void add(Survey& survey, const SurveyRow& row) {
  if (const auto heard = heard_of(row))
    ++survey.heard[heard->first][heard->second];
  const auto v = static_cast<std::size_t>(row.standing.verdict_class);
  if (!row.standing.bars.empty())
    ++survey.barred[static_cast<std::size_t>(row.standing.bars.front().code)];
  ++survey.all.strata[{}][v];
  for (Breakdown& breakdown : survey.breakdowns) {
    Stratum stratum;
    for (const SurveyField field : breakdown.fields)
      stratum.push_back(value_of(field, row.group));
    ++breakdown.strata[stratum][v];
  }
}

Survey merged(const std::vector<Survey>& parts) {
  if (parts.empty())
    throw InputError("no part to merge; expected all parts of one survey");
  std::vector<Shard> shards;
  for (std::size_t p = 0; p < parts.size(); ++p) {
    if (!alike(parts[p], parts.front()))
      throw InputError(fmt::format("part {} is of another survey than the first; expected the "
                                   "same version, tables, settings, breakdowns and number of parts",
                                   p + 1));
    for (std::size_t t = 0; t < parts[p].tables.size(); ++t)
      if (parts[p].tables[t] != parts.front().tables[t])
        throw InputError(
            fmt::format("part {} read another table {} than the first: they are of one "
                        "name, but not of one content; expected parts of one survey",
                        p + 1, in_quotes(parts[p].tables[t].name)));
    shards.push_back(parts[p].shard);
  }
  check_complete(shards);
  Survey sum = parts.front();
  sum.shard = {};
  for (std::size_t p = 1; p < parts.size(); ++p) {
    add(sum.surveyed, parts[p].surveyed);
    add(sum.all, parts[p].all);
    for (const auto& [stratum, heard] : parts[p].heard)
      for (const auto& [curve, times] : heard)
        sum.heard[stratum][curve] += times;
    sum.courses.insert(sum.courses.end(), parts[p].courses.begin(), parts[p].courses.end());
    for (std::size_t b = 0; b < sum.barred.size(); ++b)
      sum.barred[b] += parts[p].barred[b];
    for (std::size_t b = 0; b < sum.breakdowns.size(); ++b)
      add(sum.breakdowns[b], parts[p].breakdowns[b]);
  }
  std::ranges::sort(sum.courses, std::less(), &FarmCourse::key);
  if (sum.surveyed != sum.in_tables)
    throw InputError(fmt::format("the parts have {} trials in all; expected the {} of the tables",
                                 sum.surveyed.trials, sum.in_tables.trials));
  return sum;
}

} // namespace eggfall
