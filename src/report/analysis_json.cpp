#include "eggfall/report/analysis_json.hpp"

#include "base/six_digits.hpp"
#include "eggfall/base/version.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/json_values.hpp"
#include "report/field_json.hpp"
#include "report/visits_json.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

Json text(std::string_view value) {
  return value.empty() ? Json(nullptr) : Json(value);
}

Json to_json(const Interval& interval) {
  return {{"method", to_string(interval.method)},
          {"level", interval.level},
          {"lower_percent", in_percent(interval.lower)},
          {"upper_percent", in_percent(interval.upper)},
          {"usable", interval.usable()},
          {"quadrature_error_percent", in_percent(interval.error)},
          {"why_not", text(interval.why_not)}};
}

Json to_json(const std::vector<Interval>& intervals) {
  Json array = Json::array();
  for (const Interval& interval : intervals)
    array.push_back(to_json(interval));
  return array;
}

Json to_json(const Verdict& verdict) {
  return {{"criteria", verdict.criteria},
          {"class", to_string(verdict.verdict_class)},
          {"method", verdict.interval ? Json(to_string(verdict.interval->method)) : Json(nullptr)},
          {"interval", verdict.interval ? to_json(*verdict.interval) : Json(nullptr)},
          {"design", verdict.design ? Json(to_string(*verdict.design)) : Json(nullptr)},
          {"reduction_percent", in_percent(verdict.reduction)},
          {"expected_percent", in_percent(verdict.expected)},
          {"lower_percent", in_percent(verdict.lower)},
          {"reason", verdict.reason},
          {"source", verdict.citation.source},
          {"provenance", to_string(verdict.citation.provenance)}};
}

Json to_json(const SampleSummary& sample) {
  return {{"animals", sample.animals},
          {"animals_mixed", sample.animals_mixed},
          {"animals_without_eggs", sample.animals_without_eggs},
          {"eggs", sample.animals == 0 ? Json(nullptr) : Json(sample.eggs)},
          {"mean_epg", or_null(sample.mean_epg)},
          {"factor", sample.factor ? Json(sample.factor->value()) : Json(nullptr)},
          {"mean_eggs", sample.spread.animals > 0 ? Json(sample.spread.mean) : Json(nullptr)},
          {"variance_eggs", or_null(sample.spread.variance)},
          {"k", or_null(six_digits(sample.spread.k))}};
}

Json to_json(const std::vector<AnimalResult>& animals) {
  Json array = Json::array();
  const auto eggs = [](const std::optional<Count>& count) {
    return count ? Json(count->eggs.value()) : Json(nullptr);
  };
  const auto epg = [](const std::optional<Count>& count) {
    return count ? Json(count->epg()) : Json(nullptr);
  };
  for (const AnimalResult& animal : animals)
    array.push_back({{"animal", animal.animal},
                     {"eggs_before", eggs(animal.before)},
                     {"eggs_after", eggs(animal.after)},
                     {"epg_before", epg(animal.before)},
                     {"epg_after", epg(animal.after)},
                     {"reduction_percent", in_percent(animal.reduction)}});
  return array;
}

Json to_json(const EfficacyProbabilities& probabilities) {
  return {{"below_expected_percent", in_percent(probabilities.below_expected)},
          {"below_lower_percent", in_percent(probabilities.below_lower)},
          {"between_percent", in_percent(probabilities.between)},
          {"at_least_expected_percent", in_percent(probabilities.at_least_expected)}};
}

Json to_json(const std::vector<Verdict>& verdicts) {
  Json array = Json::array();
  for (const Verdict& verdict : verdicts)
    array.push_back(to_json(verdict));
  return array;
}

Json to_json(const std::vector<Caveat>& caveats) {
  Json array = Json::array();
  for (const Caveat& caveat : caveats)
    array.push_back({{"code", to_string(caveat.code)},
                     {"text", caveat.text},
                     {"severity", to_string(caveat.severity)}});
  return array;
}

Json to_json(const Standing& standing) {
  Json bars = Json::array();
  for (const Bar& bar : standing.bars)
    bars.push_back({{"code", to_string(bar.code)},
                    {"text", bar.text},
                    {"next_step", bar.next_step.text()},
                    {"provenance", to_string(bar.provenance)}});
  return {{"class", to_string(standing.verdict_class)},
          {"by_counts_alone", to_string(standing.by_counts_alone)},
          {"bars", bars},
          {"provided", text(standing.provided)}};
}

Json to_json(const std::optional<OwnFall>& own) {
  if (!own)
    return nullptr;
  return {{"control_fall_percent", in_percent(own->control_fall)},
          {"reduction_percent", in_percent(own->verdict.reduction)},
          {"interval", own->verdict.interval ? to_json(*own->verdict.interval) : Json(nullptr)},
          {"class", to_string(own->verdict.verdict_class)}};
}

/// A number of larvae that was counted.
Json whole(double larvae) {
  return static_cast<std::uint64_t>(larvae);
}

/// What a laboratory told in percent has no number of larvae: that is null, and never made up.
Json larvae_json(const std::optional<WormShare>& share) {
  if (!share)
    return nullptr;
  if (!share->open)
    return {{"larvae", whole(share->larvae)},
            {"told_apart", whole(share->total)},
            {"percent", nullptr},
            {"taken_as", nullptr}};
  const bool told = share->open->number_told;
  return {{"larvae", nullptr},
          {"told_apart", told ? Json(six_digits(share->total)) : Json(nullptr)},
          {"percent", six_digits(100 * share->larvae / share->total)},
          {"taken_as", told ? Json(nullptr) : Json(six_digits(share->total))}};
}

Json stand_in_json(const std::optional<WormShares>& larvae) {
  if (!larvae || !larvae->stand_in)
    return nullptr;
  return {{"missing", larvae->stand_in->missing}, {"place", larvae->stand_in->place}};
}

Json to_json(const std::vector<WormAnalysis>& worms) {
  const auto eggs = [](const std::optional<std::uint64_t>& count) {
    return count ? Json(*count) : Json(nullptr);
  };
  Json array = Json::array();
  for (const WormAnalysis& worm : worms)
    array.push_back({{"worm", worm.worm},
                     {"told_by", to_string(worm.source)},
                     {"larvae_before", larvae_json(found_before(worm).larvae)},
                     {"larvae_after", larvae_json(found_after(worm).larvae)},
                     {"larvae_stand_in", stand_in_json(worm.evidence.larvae)},
                     {"eggs_before", eggs(found_before(worm).eggs)},
                     {"eggs_after", eggs(found_after(worm).eggs)},
                     {"mean_epg_before", or_null(found_before(worm).mean_epg)},
                     {"mean_epg_after", or_null(found_after(worm).mean_epg)},
                     {"reduction_percent", in_percent(worm.evidence.reduction)},
                     {"headline", to_json(worm.evidence.headline)},
                     {"intervals", to_json(worm.evidence.intervals)},
                     {"verdicts", to_json(worm.judgement.verdicts)},
                     {"standing", to_json(worm.judgement.standing)},
                     {"own_fall", to_json(worm.judgement.own_fall)},
                     {"caveats", to_json(worm.caveats)}});
  return array;
}

Json to_json(const GroupAnalysis& group) {
  Json json{
      {"group", group.evidence.group.name},
      {"drench", text(group.evidence.group.drench)},
      {"class", text(to_string(group.evidence.group.classes))},
      {"host", text(group.evidence.group.host)},
      {"worm", text(group.evidence.group.worm)},
      {"design", group.evidence.design ? Json(to_string(*group.evidence.design)) : Json(nullptr)},
      {"animals", group.evidence.animals},
      {"eggs_before",
       group.evidence.before.animals > 0 ? Json(group.evidence.before.eggs) : Json(nullptr)},
      {"eggs_after",
       group.evidence.after.animals > 0 ? Json(group.evidence.after.eggs) : Json(nullptr)},
      {"mean_epg_before", or_null(group.evidence.before.mean_epg)},
      {"mean_epg_after", or_null(group.evidence.after.mean_epg)},
      {"reduction_percent", in_percent(group.evidence.reduction)},
      {"headline", group.evidence.design ? to_json(group.evidence.headline) : Json(nullptr)},
      {"intervals", to_json(group.evidence.intervals)},
      {"verdicts", to_json(group.judgement.verdicts)},
      {"standing", to_json(group.judgement.standing)},
      {"own_fall", to_json(group.judgement.own_fall)},
      {"probabilities",
       group.judgement.probabilities ? to_json(*group.judgement.probabilities) : Json(nullptr)},
      {"sensitivity", Json::array()},
      {"next_steps", Json::array()},
      {"caveats", to_json(group.caveats)},
      {"next_step", group.advice.next_step.text()},
      {"dropped", Json::array()},
      {"worms", to_json(group.judgement.worms)},
      {"before", to_json(group.evidence.before)},
      {"after", to_json(group.evidence.after)},
      {"control", group.evidence.control ? to_json(*group.evidence.control) : Json(nullptr)},
      {"other_designs", Json::array()},
      {"missing_after", to_json(group.field.missing_after)},
      {"dose", to_json(group.field.doses)},
      {"days", to_json(group.field.days)},
      {"test_day", or_null(group.evidence.group.day_after)},
      {"visits", visits_json(group.course.visits)},
      {"egg_reappearance", reappearance_json(group.course.reappearance)},
      {"per_animal", to_json(group.evidence.animal_results)}};
  add_field_checks(json["per_animal"], group.field.doses, group.field.days);
  for (const PriorSensitivity& other : group.judgement.sensitivity)
    json["sensitivity"].push_back({{"scale", other.scale},
                                   {"interval", to_json(other.interval)},
                                   {"class", to_string(other.verdict_class)}});
  for (const LargerTrialOutcome& outcome : group.judgement.larger_trials)
    json["next_steps"].push_back({{"volume", outcome.extension.volume},
                                  {"more_animals", outcome.extension.more_animals},
                                  {"simulations", outcome.simulations},
                                  {"clear_percent", in_percent(outcome.clear)},
                                  {"susceptible_percent", in_percent(outcome.susceptible)},
                                  {"low_resistant_percent", in_percent(outcome.low_resistant)},
                                  {"resistant_percent", in_percent(outcome.resistant)}});
  for (const DroppedAnimal& animal : group.evidence.dropped)
    json["dropped"].push_back({{"animal", animal.animal}, {"reason", animal.reason}});
  for (const DesignEstimate& other : group.evidence.other_designs)
    json["other_designs"].push_back({{"design", to_string(other.design)},
                                     {"reduction_percent", in_percent(other.reduction)},
                                     {"intervals", to_json(other.intervals)}});
  return json;
}

/// The change of untreated counts as a fall, with limits.
Json season_json(const LogRatioDensity& season, double level) {
  const RatioLimits limits = season.limits(level);
  return {{"level", level},
          {"median_fall_percent", in_percent(1 - std::exp(season.quantile(0.5).value))},
          {"lower_percent", in_percent(1 - limits.upper)},
          {"upper_percent", in_percent(1 - limits.lower)}};
}

Json to_json(const Ranking& ranking) {
  Json json{{"level", ranking.level},
            {"groups", Json::array()},
            {"pairs", Json::array()},
            {"left_out", Json::array()},
            {"cannot_tell_percent", in_percent(ranking.cannot_tell)},
            {"shared_control", ranking.shared_control},
            {"designs_differ", ranking.designs_differ},
            {"animals_differ", ranking.animals_differ}};
  for (const RankedGroup& group : ranking.groups)
    json["groups"].push_back({{"group", group.group},
                              {"best_percent", in_percent(group.best.value)},
                              {"within_two_points_percent", in_percent(group.close_to_best.value)},
                              {"quadrature_error_percent",
                               in_percent(std::max(group.best.error, group.close_to_best.error))}});
  for (const RankedPair& pair : ranking.pairs)
    json["pairs"].push_back({{"first", pair.first},
                             {"second", pair.second},
                             {"first_better_percent", in_percent(pair.first_better.value)},
                             {"quadrature_error_percent", in_percent(pair.first_better.error)},
                             {"eggs_left_ratio_lower", or_null(six_digits(pair.eggs_left.lower))},
                             {"eggs_left_ratio_upper", or_null(six_digits(pair.eggs_left.upper))},
                             {"eggs_left_ratio_error", or_null(six_digits(pair.eggs_left.error))}});
  for (const NotRanked& group : ranking.left_out)
    json["left_out"].push_back({{"group", group.group}, {"reason", group.reason}});
  return json;
}

Json to_json(const Combination& combination) {
  const auto& [group, parts, level, reduction, headline, expected] = combination;
  Json json{{"group", group},
            {"parts", Json::array()},
            {"level", level},
            {"reduction_percent", in_percent(reduction)},
            {"headline", to_json(headline)},
            {"expected_percent",
             in_percent(expected ? std::optional(expected->reduction) : std::nullopt)},
            {"expected_lower_percent", Json(nullptr)},
            {"expected_upper_percent", Json(nullptr)},
            {"expected_why_no_limits",
             text(expected ? expected->ratio.why_not() : "there is no comparison")},
            {"better_than_expected_percent", Json(nullptr)},
            {"quadrature_error_percent", Json(nullptr)},
            {"why_not", text(expected.why_not())}};
  for (const Combination::Part& part : parts)
    json["parts"].push_back({{"class", to_string(part.drug_class)}, {"group", part.group}});
  if (expected && expected->ratio) {
    json["expected_lower_percent"] = in_percent(1 - expected->ratio->upper);
    json["expected_upper_percent"] = in_percent(1 - expected->ratio->lower);
  }
  if (expected && expected->found_is_better) {
    json["better_than_expected_percent"] = in_percent(expected->found_is_better->value);
    json["quadrature_error_percent"] = in_percent(expected->found_is_better->error);
  }
  return json;
}

} // namespace

std::string analysis_json(const std::vector<TrialAnalysis>& trials,
                          const AnalysisSettings& settings) {
  Json json{{"schema", "eggfall.analysis/2"},
            {"version", version()},
            {"settings",
             {{"level", settings.level},
              {"seed", settings.seed},
              {"simulations", settings.simulations},
              {"within_animal_variation_scale", settings.priors.within_animals.scale},
              {"between_animal_variation_scale", settings.priors.mean.between_animals.scale},
              {"prior_middle_eggs", settings.priors.mean.middle_eggs},
              {"prior_cv_ratio", settings.priors.mean.cv_ratio},
              {"design", settings.design ? Json(to_string(*settings.design)) : Json(nullptr)},
              {"criteria", text(settings.criteria)},
              {"units_confirmed", settings.units_confirmed}}},
            {"trials", Json::array()}};
  for (const TrialAnalysis& trial : trials) {
    Json groups = Json::array();
    for (const GroupAnalysis& group : trial.groups)
      groups.push_back(to_json(group));
    Json control = nullptr;
    if (trial.control)
      control = {{"group", trial.control->group.name},
                 {"reduction_percent", in_percent(trial.control->reduction)},
                 {"season", trial.control->season
                                ? season_json(*trial.control->season, settings.level)
                                : Json(nullptr)},
                 {"before", to_json(trial.control->before)},
                 {"after", to_json(trial.control->after)},
                 {"visits", visits_json(trial.control->visits)},
                 {"per_animal", to_json(trial.control->animal_results)}};
    Json combinations = Json::array();
    for (const Combination& combination : trial.combinations)
      combinations.push_back(to_json(combination));
    json["trials"].push_back({{"trial", trial.trial},
                              {"control", std::move(control)},
                              {"groups", std::move(groups)},
                              {"ranking", trial.ranking ? to_json(*trial.ranking) : Json(nullptr)},
                              {"combinations", std::move(combinations)}});
    if (!trial.reading.empty())
      json["trials"].back()["reading"] = trial.reading;
  }
  // Names from the command line may be no UTF-8; their bytes are then replaced.
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace eggfall
