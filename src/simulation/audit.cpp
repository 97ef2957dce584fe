#include "eggfall/simulation/audit.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/base/version.hpp"
#include "eggfall/simulation/audit_summary.hpp"
#include "eggfall/statistics/evidence.hpp"
#include "eggfall/statistics/worm_evidence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace eggfall {
namespace {

constexpr std::size_t trials_a_task = 50;
/// A proportion of 1 is 100 percentage points, and so 1e8 millionths of one: tallies are whole
/// numbers of these, so that they add up to the same sum in any order.
constexpr double millionths_of_a_point = 1e8;

double cut(double reduction) {
  return std::max(reduction, -1.0);
}

std::size_t index_of(VerdictClass verdict_class) {
  return static_cast<std::size_t>(verdict_class);
}

void count_limits(MethodTally& tally, const Interval& interval, double truth) {
  switch (outcome(interval, truth)) {
  case Outcome::unusable:
    ++tally.unusable;
    return;
  case Outcome::truth_above:
    ++tally.truth_above;
    break;
  case Outcome::truth_below:
    ++tally.truth_below;
    break;
  case Outcome::held:
    ++tally.held;
    break;
  }
  tally.width += static_cast<std::uint64_t>(
      std::llround(millionths_of_a_point * (cut(*interval.upper) - cut(*interval.lower))));
}

/// Adds one trial that has a reduction to the tally of one method. `evidence` is an Evidence or a
/// WormEvidence.
template <typename AnyEvidence>
void count_method(MethodTally& tally, const AnyEvidence& evidence, const AuditSettings& settings,
                  double truth) {
  std::map<double, Interval> intervals; // by level
  const auto interval = [&](double level) -> const Interval& {
    const auto found = intervals.find(level);
    return found != intervals.end()
               ? found->second
               : intervals.emplace(level, evidence.interval(tally.method, level)).first->second;
  };
  count_limits(tally, interval(settings.level), truth);
  for (std::size_t c = 0; c < settings.criteria.size(); ++c) {
    const AuditCriterion& criterion = settings.criteria[c];
    const bool judged =
        criterion.rule == Rule::reduction_alone || interval(criterion.level).usable();
    const VerdictClass verdict_class =
        judged
            ? verdict_class_by(criterion.rule, criterion.cut_off, *evidence.reduction(),
                               criterion.rule == Rule::reduction_alone ? Interval()
                                                                       : interval(criterion.level))
            : VerdictClass::not_applicable;
    ++tally.verdicts[c][index_of(verdict_class)];
  }
}

void count_without_estimate(FarmTally& tally) {
  ++tally.without_estimate;
  for (MethodTally& method : tally.methods)
    for (VerdictTally& verdicts : method.verdicts)
      ++verdicts[index_of(VerdictClass::not_applicable)];
}

/// Adds one trial to the tally of its farm. `evidence` is an Evidence or a WormEvidence.
template <typename AnyEvidence>
void count_trial(FarmTally& tally, const AnyEvidence& evidence, const AuditSettings& settings,
                 double truth) {
  const auto reduction = evidence.reduction();
  if (!reduction) {
    count_without_estimate(tally);
    return;
  }
  tally.none_after += *reduction == 1 ? 1 : 0;
  tally.reduction += std::llround(millionths_of_a_point * cut(*reduction));
  for (MethodTally& method : tally.methods)
    count_method(method, evidence, settings, truth);
}

FarmTally empty_tally(const AuditSettings& settings, const AuditFarm& farm) {
  FarmTally tally;
  for (const Method method : audited_methods(settings, farm)) {
    MethodTally empty;
    empty.method = method;
    empty.verdicts.resize(settings.criteria.size());
    tally.methods.push_back(std::move(empty));
  }
  return tally;
}

/// Gives `use` the Evidence or WormEvidence of trial t of a farm; false, without a call, if the
/// trial has nothing to compare.
template <typename Use>
bool with_evidence(const AuditFarm& farm, const AuditSettings& settings, std::size_t t, Use&& use) {
  const std::string name = farm_key(farm);
  const Trial trial = simulate(farm.model, {settings.seed, stream_group("audit", name),
                                            static_cast<std::uint32_t>(t)})
                          .trial;
  auto comparison = compare(farm.design, trial.groups.front(), control_of(trial));
  if (!comparison)
    return false;
  const Evidence evidence(std::move(*comparison), settings.priors, settings.quadrature);
  if (is_of_one_worm(farm.model))
    use(WormEvidence(evidence, worm_shares(farm.design, trial.groups.front(), control_of(trial),
                                           simulated_worm)));
  else
    use(evidence);
  return true;
}

} // namespace

std::string farm_key(const AuditFarm& farm) {
  const CountModel& m = farm.model;
  // The key chooses the farm's random stream. Features that a farm does not use are left out of it,
  // so that the farms there were keep their streams when a feature is added.
  std::string more;
  if (m.animals_in_pool > 1)
    more += fmt::format(" pools of {}", m.animals_in_pool);
  if (m.weighing_cv > 0)
    more += fmt::format(" weighing {}", m.weighing_cv);
  if (m.underdosed > 0)
    more += fmt::format(" underdosed {} effect {}", m.underdosed, m.underdose_effect);
  if (is_of_one_worm(m))
    more += fmt::format(" share {} others {} larvae {}", m.worm_share, m.other_efficacy, m.larvae);
  return fmt::format("{} animals {} {} eggs {} efficacy {} {} k {} {} within {} varies {} undosed "
                     "{} without {} missing {} season {} counts {} factors {} {}{}",
                     to_string(farm.design), m.animals, m.control_animals, m.mean_eggs, m.efficacy,
                     to_string(m.shape), m.k, m.k_after.value_or(m.k), m.within_cv, m.efficacy_cv,
                     m.undosed, m.without_worms, m.missing_after, m.season_change,
                     m.counts_a_sample, m.factor_before.value(), m.factor_after.value(), more);
}

void check(const AuditFarm& farm) {
  check(farm.model);
  if (farm.design != Design::paired && farm.model.control_animals == 0)
    throw InputError(fmt::format("the design {}: found no control animals; expected 1 or more",
                                 to_string(farm.design)));
}

std::vector<AuditCriterion> audit_criteria(const std::vector<Criteria>& criteria,
                                           const Group& group) {
  std::vector<AuditCriterion> result;
  for (const Criteria& each : criteria)
    if (const CutOffChoice choice = choose_cut_off(each, group); choice.cut_off != nullptr)
      result.push_back(
          {each.name, each.title, each.rule, each.level, each.method, *choice.cut_off});
  return result;
}

std::vector<Method> audited_methods(const AuditSettings& settings, Design design) {
  std::vector<Method> methods = methods_for(design);
  if (!settings.methods.empty())
    std::erase_if(methods, [&](Method method) {
      return std::ranges::find(settings.methods, method) == settings.methods.end();
    });
  return methods;
}

std::vector<Method> audited_methods(const AuditSettings& settings, const AuditFarm& farm) {
  std::vector<Method> methods = audited_methods(settings, farm.design);
  if (is_of_one_worm(farm.model))
    std::erase_if(methods, [&](Method method) {
      return method != Method::guarded_posterior && method != posterior_method(farm.design);
    });
  return methods;
}

void add(FarmTally& tally, const FarmTally& more) {
  const bool alike = std::ranges::equal(
      tally.methods, more.methods, [](const MethodTally& a, const MethodTally& b) {
        return a.method == b.method && a.verdicts.size() == b.verdicts.size();
      });
  if (!alike)
    throw CalculationError("two tallies of different methods cannot be added");
  tally.trials += more.trials;
  tally.without_estimate += more.without_estimate;
  tally.none_after += more.none_after;
  tally.reduction += more.reduction;
  for (std::size_t m = 0; m < tally.methods.size(); ++m) {
    MethodTally& sum = tally.methods[m];
    const MethodTally& part = more.methods[m];
    sum.held += part.held;
    sum.truth_above += part.truth_above;
    sum.truth_below += part.truth_below;
    sum.unusable += part.unusable;
    sum.width += part.width;
    for (std::size_t c = 0; c < sum.verdicts.size(); ++c)
      add(sum.verdicts[c], part.verdicts[c]);
  }
}

FarmTally audit_trials(const AuditFarm& farm, const AuditSettings& settings, std::size_t first,
                       std::size_t trials) {
  check(farm);
  const double truth = true_efficacy(farm.model);
  FarmTally tally = empty_tally(settings, farm);
  for (std::size_t t = first; t < first + trials; ++t) {
    ++tally.trials;
    if (!with_evidence(farm, settings, t, [&](const auto& evidence) {
          count_trial(tally, evidence, settings, truth);
        }))
      count_without_estimate(tally);
  }
  return tally;
}

std::vector<AuditExample> audit_examples(const AuditFarm& farm, const AuditSettings& settings,
                                         std::size_t trials) {
  check(farm);
  std::vector<AuditExample> examples(trials);
  for (std::size_t t = 0; t < trials; ++t)
    with_evidence(farm, settings, t, [&](const auto& evidence) {
      examples[t].reduction = evidence.reduction();
      if (examples[t].reduction)
        for (const Method method : audited_methods(settings, farm))
          examples[t].intervals.push_back(evidence.interval(method, settings.level));
    });
  return examples;
}

std::vector<AuditTask> audit_tasks(std::size_t farms, const AuditSettings& settings, Shard shard) {
  constexpr std::size_t most_tasks = 10'000'000;
  const std::size_t a_farm = (settings.trials + trials_a_task - 1) / trials_a_task;
  const std::size_t all = farms * a_farm;
  if (all / shard.count > most_tasks)
    throw InputError(fmt::format("found {} trials of {} settings in {} parts; expected at most {} "
                                 "trials a part",
                                 settings.trials, farms, shard.count, most_tasks * trials_a_task));
  std::vector<AuditTask> tasks;
  for (std::size_t number = shard.index - 1; number < all; number += shard.count) {
    const std::size_t first = number % a_farm * trials_a_task;
    tasks.push_back({number / a_farm, first, std::min(trials_a_task, settings.trials - first)});
  }
  return tasks;
}

std::vector<AuditTask> next_tasks(const AuditResult& result) {
  constexpr std::size_t first_round = 500;
  const std::size_t all = result.settings.trials;
  /// How many trials are needed so that the share of no class has a larger Monte Carlo error than a
  /// share of one half would have in all trials.
  const auto needed = [&](const FarmTally& tally) {
    double most = 0;
    for (const MethodTally& method : tally.methods)
      for (const VerdictTally& verdicts : method.verdicts)
        for (const std::uint64_t count : verdicts)
          most = std::max(most, std::pow(share(count, tally.trials).error, 2));
    return static_cast<std::size_t>(
        std::ceil(4 * most * static_cast<double>((tally.trials + 1) * all)));
  };
  std::vector<AuditTask> tasks;
  for (std::size_t c = 0; c < result.farms.size(); ++c) {
    const auto done = static_cast<std::size_t>(result.farms[c].tally.trials);
    const std::size_t wanted = done == 0 ? first_round : needed(result.farms[c].tally);
    for (std::size_t first = done; first < std::min(wanted, all); first += trials_a_task)
      tasks.push_back({c, first, std::min(trials_a_task, all - first)});
  }
  return tasks;
}

AuditResult merged(const std::vector<AuditResult>& parts) {
  if (parts.empty())
    throw InputError("no part to merge; expected all parts of one audit");
  const AuditResult& first = parts.front();
  AuditResult sum = first;
  sum.shard = {};
  std::vector<Shard> shards;
  for (std::size_t p = 0; p < parts.size(); ++p) {
    const AuditResult& part = parts[p];
    if (part.version != first.version || part.settings != first.settings ||
        part.shard.count != first.shard.count ||
        !std::ranges::equal(
            part.farms, first.farms, {},
            [](const AuditedFarm& audited) { return farm_key(audited.farm); },
            [](const AuditedFarm& audited) { return farm_key(audited.farm); }))
      throw InputError(fmt::format("part {} is of another audit than the first; expected the same "
                                   "version, cells, settings and number of parts",
                                   p + 1));
    shards.push_back(part.shard);
  }
  check_complete(shards);
  for (std::size_t p = 1; p < parts.size(); ++p)
    for (std::size_t c = 0; c < sum.farms.size(); ++c)
      add(sum.farms[c].tally, parts[p].farms[c].tally);
  for (const AuditedFarm& audited : sum.farms)
    if (audited.tally.trials != sum.settings.trials)
      throw InputError(fmt::format("a cell has {} trials in all; expected {}", audited.tally.trials,
                                   sum.settings.trials));
  return sum;
}

AuditResult empty_result(const std::vector<AuditFarm>& farms, const AuditSettings& settings,
                         Shard shard) {
  AuditResult result{std::string(version()), settings, shard, {}};
  for (const AuditFarm& farm : farms)
    result.farms.push_back({farm, empty_tally(settings, farm)});
  return result;
}

} // namespace eggfall
