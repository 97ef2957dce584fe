#include "plan/plan_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/field_practice.hpp"
#include "plan/plan_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace eggfall {
namespace {

using Sentences = std::vector<std::string>;

/// The right answers that are hardest to get, each over all criteria.
RightAnswers rarest_answers(const PlannedOption& planned, const PlanAim& aim) {
  RightAnswers rarest = right_answers(planned, aim, 0);
  for (std::size_t c = 1; c < aim.criteria.size(); ++c) {
    const RightAnswers next = right_answers(planned, aim, c);
    if (next.good.value < rarest.good.value) {
      rarest.works = next.works;
      rarest.good = next.good;
    }
    if (next.poor.value < rarest.poor.value) {
      rarest.fails = next.fails;
      rarest.poor = next.poor;
    }
  }
  return rarest;
}

std::string chances_text(const RightAnswers& answers) {
  return fmt::format("{} such tests call a drench that truly removes {} susceptible, and {} call "
                     "one that removes {} resistant",
                     of_100(answers.good), efficacy_text(answers.works), of_100(answers.poor),
                     efficacy_text(answers.fails));
}

/// "48 samples, 96 in costs and 4.8 hours at the bench"
std::string demand_text(const PlanDemand& needs) {
  std::vector<std::string> parts{fmt::format("{} samples", needs.samples)};
  if (needs.cost)
    parts.push_back(fmt::format("{:.4g} in costs", *needs.cost));
  if (needs.hours)
    parts.push_back(fmt::format("{:.1f} hours at the bench", *needs.hours));
  return in_words(parts);
}

std::string minima_text(const std::vector<Minimum>& minima) {
  std::vector<std::string> parts;
  for (const Minimum& minimum : minima) {
    if (minimum.animals)
      parts.push_back(fmt::format("{:g} animals a group", *minimum.animals));
    add_count_minima(parts, minimum);
  }
  return in_words(parts);
}

std::string wanted(const PlanAim& aim) {
  return fmt::format("{:g} of 100", 100 * aim.power);
}

/// "29 call it resistant, 4 susceptible (wrong), and 67 give no clear answer", of 100 tests of a
/// drench that removes what the outcome says, less than is expected.
std::string calls_of_100(const PlanOutcome& outcome, const AuditCriterion& criterion) {
  const double poor = std::round(100 * called_resistant(outcome, criterion, 0).value);
  const double good =
      std::round(100 * chance(outcome, criterion, 0, VerdictClass::susceptible).value);
  return fmt::format("{:.0f} call it resistant, {:.0f} susceptible (wrong), and {:.0f} give no "
                     "clear answer",
                     poor, good, 100 - poor - good);
}

/// What the chosen design leaves open: a drench at the expected efficacy, or between the
/// thresholds; and what it makes of one that fails but is not dead, at the lower threshold.
void add_what_it_cannot_tell(Sentences& sentences, const PlannedOption& planned,
                             const PlanAim& aim) {
  const AuditCriterion& criterion = aim.criteria.front();
  const PlanOutcome& least_clear =
      *std::ranges::max_element(planned.outcomes, {}, [&](const PlanOutcome& outcome) {
        return unclear(outcome, criterion, 0);
      });
  const double most_unclear = unclear(least_clear, criterion, 0);
  const auto& lower = criterion.cut_off.lower;
  if (most_unclear > field_practice().unclear_worth_telling &&
      !(lower && same_efficacy(least_clear.efficacy, *lower)))
    sentences.push_back(fmt::format(
        "What it cannot do is judge a drench in between: if one truly removes {}, about {:.0f} of "
        "100 such tests end without a clear answer.",
        efficacy_text(least_clear.efficacy), 100 * most_unclear));
  for (const PlanOutcome& outcome : planned.outcomes)
    if (lower && same_efficacy(outcome.efficacy, *lower))
      sentences.push_back(
          fmt::format("What it does badly is judge a drench in between: of 100 such "
                      "tests of one that truly removes {}, {}.",
                      efficacy_text(*lower), calls_of_100(outcome, criterion)));
}

/// Untreated animals, what they ask for, and whether there are as many.
void add_untreated(Sentences& sentences, const PlannedFlock& flock, const PlannedOption& best) {
  constexpr std::size_t untreated = 10;
  PlannedFlock one_group = flock;
  one_group.classes.clear();
  const PlanDemand theirs = demand({Design::paired, untreated, best.option.counting}, one_group);
  sentences.push_back(fmt::format(
      "Plus ten untreated animals, sampled on the same days, which adds {}: without them a "
      "change of season would pass for the drench's work{}.",
      demand_text(theirs),
      flock.season_change == 1 ? ", and these chances assume that there is none" : ""));
  const std::size_t animals = best.needs.animals + untreated;
  if (flock.animals && *flock.animals < animals)
    sentences.push_back(fmt::format(
        "That is {} animals, and there are {}: {}.", animals, *flock.animals,
        *flock.animals > best.needs.animals
            ? fmt::format("leave the {} that remain untreated, and expect less of them",
                          *flock.animals - best.needs.animals)
            : std::string("none would remain untreated, so that this test could not tell the "
                          "drench from the season")));
}

/// What the test needs beside the animals whose chances were simulated.
void add_what_to_add(Sentences& sentences, const Plan& plan, const PlannedOption& best) {
  if (best.option.design == Design::paired)
    add_untreated(sentences, plan.question.flock, best);
  std::vector<std::string> askers;
  double most = 0;
  for (const auto& [asked_by, minimum] : plan.published)
    if (minimum.animals && static_cast<double>(best.option.group_size) < *minimum.animals) {
      if (std::ranges::find(askers, asked_by) == askers.end())
        askers.push_back(asked_by);
      most = std::max(most, *minimum.animals);
    }
  if (!askers.empty())
    sentences.push_back(
        fmt::format("{} {} for at least {:g} animals a group: with fewer the analysis will say so "
                    "beside its answer, and some will not accept it.",
                    in_words(askers), askers.size() == 1 ? "asks" : "ask", most));
}

void add_recommendation(Sentences& sentences, const Plan& plan, const PlannedOption& best) {
  const PlanAim& aim = plan.question.aim;
  const bool meets = meets_minima(best, plan.question);
  sentences.push_back(fmt::format("Take {} ({} animals in all): {}.", in_words(best.option),
                                  best.needs.animals, chances_text(rarest_answers(best, aim))));
  sentences.push_back(fmt::format(
      "Of the designs compared that reach {} both ways{}, it asks for least: {}.", wanted(aim),
      meets && !aim.minima.empty() ? " and have what guidelines ask for" : "",
      demand_text(best.needs)));
  if (const Share reached = power(best, aim); reached.value - 2 * reached.error < aim.power)
    sentences.push_back(
        "That is close to what was asked for: within the luck of this simulation it "
        "may fall a little short.");
  add_what_to_add(sentences, plan, best);
  if (!meets)
    sentences.push_back(
        fmt::format("It has not all that guidelines ask for ({}), and some will not accept it.",
                    minima_text(aim.minima)));
  const PlannedOption* const cheapest = least_demanding(plan.all, aim);
  if (cheapest != nullptr && cheapest->option != best.option)
    sentences.push_back(
        fmt::format("The cheapest that reaches {} is {}, with {}: {}; it has not what guidelines "
                    "ask for ({}).",
                    wanted(aim), in_words(cheapest->option), demand_text(cheapest->needs),
                    chances_text(rarest_answers(*cheapest, aim)), minima_text(aim.minima)));
  add_what_it_cannot_tell(sentences, best, aim);
}

const PlannedCase* first_that_will_do(const Plan& plan, PlanCase::Kind kind) {
  for (const PlannedCase& each : plan.cases)
    if (each.plan_case.kind == kind && can_be_judged(each.plan_case.option) &&
        power(each.planned, plan.question.aim).value >= plan.question.aim.power)
      return &each;
  return nullptr;
}

/// To two digits.
double rounded(double value) {
  const double unit = std::pow(10.0, std::floor(std::log10(value)) - 1);
  return std::round(value / unit) * unit;
}

void add_when_to_come_back(Sentences& sentences, const Plan& plan) {
  const PlannedCase* const eggs = first_that_will_do(plan, PlanCase::Kind::more_eggs);
  const PlannedCase* const animals = first_that_will_do(plan, PlanCase::Kind::more_animals);
  const PlannedCase* const one = first_that_will_do(plan, PlanCase::Kind::one_drench);
  if (one != nullptr)
    sentences.push_back(fmt::format("Test one drench at a time: with {} animals in its group the "
                                    "answer is {} right.",
                                    one->plan_case.option.group_size,
                                    of_100(power(one->planned, plan.question.aim))));
  if (animals != nullptr)
    sentences.push_back(
        fmt::format("With {} animals a group ({} in all) today's counts would do: test mobs that "
                    "graze the same ground as one, or come back when there are so many.",
                    animals->plan_case.option.group_size, animals->planned.needs.animals));
  if (eggs != nullptr) {
    const double times = eggs->plan_case.flock.mean_epg / plan.question.flock.mean_epg;
    const std::string finer =
        fmt::format("count so finely that one egg stands for {:g} EPG or less",
                    rounded(eggs->plan_case.option.counting.factor.value() / times));
    sentences.push_back(
        times > field_practice().likely_rise
            ? fmt::format("{}.",
                          capitalised(animals != nullptr || one != nullptr ? "or " + finer : finer))
            : fmt::format(
                  "Come back when the mean count is about {:g} EPG or more (young stock, or "
                  "later in the season, if the animals' health allows the wait), or {}.",
                  rounded(eggs->plan_case.flock.mean_epg), finer));
  }
  if (eggs == nullptr && animals == nullptr && one == nullptr)
    sentences.push_back(
        "Neither 20 times as many eggs nor 5 times as many animals would be enough: "
        "these criteria ask for more than such a test can show. Join several farms, "
        "or ask your veterinarian which question can be answered here.");
  sentences.push_back(
      "Until then do not read a small test as proof. Count a few animals after each "
      "use of the drench, and treat sick animals as your veterinarian advises.");
}

std::string no_class_for_few() {
  return fmt::format(
      "analyse gives fewer than {} animals (or pools) no class, however their counts "
      "fall, since one odd animal decides among them",
      field_practice().fewest_animals);
}

/// Of groups too small for a class beside others: nobody is to take their chances for a promise.
void add_too_small_groups(Sentences& sentences, const Plan& plan) {
  if (std::ranges::any_of(plan.all, can_be_judged, &PlannedOption::option) &&
      !std::ranges::all_of(plan.all, can_be_judged, &PlannedOption::option))
    sentences.push_back(
        fmt::format("{}: of groups that small none is advised, whatever the chances shown of them.",
                    capitalised(no_class_for_few())));
}

/// Where every group is too small for a class.
void add_refusal_of_small_groups(Sentences& sentences, const Plan& plan) {
  sentences.push_back(
      fmt::format("None of these designs can be advised, whatever the chances shown "
                  "of them: {}. Plan with {} animals a group or more.",
                  no_class_for_few(), field_practice().fewest_animals));
  if (first_that_will_do(plan, PlanCase::Kind::more_animals) != nullptr ||
      first_that_will_do(plan, PlanCase::Kind::one_drench) != nullptr)
    add_when_to_come_back(sentences, plan);
}

void add_refusal(Sentences& sentences, const Plan& plan) {
  const PlanAim& aim = plan.question.aim;
  const PlannedOption& best = *most_powerful(plan.all, aim);
  if (!can_be_judged(best.option)) {
    add_refusal_of_small_groups(sentences, plan);
    return;
  }
  const RightAnswers answers = rarest_answers(best, aim);
  sentences.push_back(fmt::format(
      "This flock or herd cannot answer the question today: even the best of these designs ({}) "
      "does not reach {} both ways. {}.",
      in_words(best.option), wanted(aim), capitalised(chances_text(answers))));
  if (best.needs.eggs_a_sample < field_practice().few_eggs_a_sample)
    sentences.push_back(fmt::format("Too few eggs would be seen: about {:.2g} in a sample before "
                                    "treatment, {:.3g} in a whole group.",
                                    best.needs.eggs_a_sample, best.needs.eggs_a_group));
  else
    sentences.push_back("Too few animals stand in a group for so uneven counts.");
  add_when_to_come_back(sentences, plan);
}

void add_pilot(Sentences& sentences, const Plan& plan) {
  for (const PlannedCase& each : plan.cases)
    if (each.plan_case.kind == PlanCase::Kind::poor_flock)
      sentences.push_back(
          fmt::format("The pilot count leaves room: were the mean {:.3g} EPG and k {:.2g} (the "
                      "poor end of their "
                      "90% limits), {}.",
                      each.plan_case.flock.mean_epg, each.plan_case.flock.k,
                      chances_text(rarest_answers(each.planned, plan.question.aim))));
}

void add_season(Sentences& sentences, const Plan& plan) {
  const PlannedFlock& flock = plan.question.flock;
  if (flock.season_change == 1)
    return;
  const double fails = clearly_fails(plan.question.aim.criteria.front());
  const double shown = 1 - (1 - fails) * flock.season_change;
  sentences.push_back(fmt::format("Untreated counts are taken to {} by {} between the two samples. "
                                  "A test that compares animals "
                                  "with themselves takes that for the drench's work: a drench that "
                                  "removes {} shows {}. Only an "
                                  "untreated control group tells the two apart.",
                                  flock.season_change < 1 ? "fall" : "rise",
                                  percent(std::abs(1 - flock.season_change)), efficacy_text(fails),
                                  shown < 0 ? "a rise" : "a fall of " + percent(shown)));
}

/// The most powerful of each design, side by side.
void add_designs(Sentences& sentences, const Plan& plan) {
  if (plan.question.choices.designs.size() < 2)
    return;
  std::vector<std::string> parts;
  for (const Design design : plan.question.choices.designs) {
    std::vector<PlannedOption> of_design;
    for (const PlannedOption& planned : plan.all)
      if (planned.option.design == design)
        of_design.push_back(planned);
    if (const PlannedOption* best = most_powerful(of_design, plan.question.aim))
      parts.push_back(fmt::format("{} {} ({} samples)", to_string(design),
                                  of_100(power(*best, plan.question.aim)), best->needs.samples));
  }
  sentences.push_back(fmt::format("The surest of each design, by the rarer of the two right "
                                  "answers: {}.",
                                  in_words(parts)));
}

} // namespace

std::string in_words(const PlanOption& option) {
  return fmt::format("{} animals a group ({}), one egg for {:g} EPG", option.group_size,
                     to_string(option.design), option.counting.factor.value());
}

std::vector<std::string> plan_advice(const Plan& plan) {
  Sentences sentences;
  if (const PlannedOption* best = recommended(plan))
    add_recommendation(sentences, plan, *best);
  else
    add_refusal(sentences, plan);
  add_too_small_groups(sentences, plan);
  add_designs(sentences, plan);
  add_season(sentences, plan);
  add_pilot(sentences, plan);
  return sentences;
}

} // namespace eggfall
