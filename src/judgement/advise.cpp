#include "judgement/advise.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/decide_standing.hpp"
#include "judgement/egg_reappearance.hpp"
#include "judgement/field_caveats.hpp"
#include "judgement/field_practice.hpp"
#include "judgement/sample_words.hpp"
#include "judgement/worm_analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <string>
#include <string_view>

namespace eggfall {
namespace {

/// Looks at one group's result, and says what to do.
class Adviser {
public:
  Adviser(const GroupEvidence& evidence, const FieldCheck& field, const Judgement& judgement,
          const std::vector<Caveat>& caveats)
      : evidence_(evidence), field_(field), judgement_(judgement), caveats_(caveats),
        surviving_(worms_that(survives, judgement.worms)),
        doubtful_(worms_that(may_survive, judgement.worms)), excuse_(excuse_of_the_drench()),
        wrong_(to_put_right()) {}

  Wording next_step() const {
    return has(CaveatCode::counts_rose, Severity::serious)
               ? "Counts rose: check first that before and after are not swapped. " + by_standing()
               : by_standing();
  }

private:
  Wording by_standing() const {
    if (const std::vector<Bar>& bars = judgement_.standing.bars; is_barred(judgement_.standing))
      return bars.front().code == BarCode::surviving_worm ? against_survivors()
                                                          : lift(bars.front());
    switch (judgement_.standing.verdict_class) {
    case VerdictClass::susceptible:
      return judgement_.standing.care ? with_care(*judgement_.standing.care) : go_on_checking();
    case VerdictClass::low_resistant:
      return excuse_.empty()
                 ? "The drench still removes most worms, but some survive it. Plan with "
                   "your veterinarian how to slow this down, and test again next season."
                 : put_right_first() + "take it that some worms survive it.";
    case VerdictClass::resistant:
      return (excuse_.empty()
                  ? "Do not rely on this drench alone here. First rule out a wrong weight, dose, "
                    "or setting of the gun or syringe; then choose another with your veterinarian"
                  : put_right_first() +
                        "do not rely on it alone here: choose another with your veterinarian") +
             what_survived();
    case VerdictClass::suspected:
      return excuse_.empty() ? "Take it as a warning, not as proof: repeat the test " +
                                   how_to_repeat() + " before relying on this drench."
                             : put_right_first() + "take it as a warning, not as proof.";
    case VerdictClass::inconclusive:
      return evidence_.disagreement.fall_outside_posterior ? look_at_animals() : repeat();
    case VerdictClass::not_applicable:
      break;
    }
    return without_verdict();
  }

  bool has(CaveatCode code, Severity at_least) const {
    return has_caveat(caveats_, code, at_least);
  }

  /// What to do about a bar. If the counts alone call the drench poor, or lean that way, the bar
  /// does not clear it, and until the test is repeated it is not to be relied on alone.
  Wording lift(const Bar& bar) const {
    const bool poor =
        finds_resistance(judgement_.standing.by_counts_alone) || judgement_.standing.leaning;
    if (poor || !surviving_.empty())
      return bar.next_step + " Until the test is repeated, do not rely on this drench alone.";
    // Counts that look good are what tempts to go on as if the drench had been tested.
    const bool tempts = judgement_.standing.by_counts_alone == VerdictClass::susceptible &&
                        judgement_.standing.verdict_class == VerdictClass::not_applicable &&
                        bar.code != BarCode::not_covered && bar.code != BarCode::units_in_doubt;
    return tempts ? bar.next_step + " Until then, take this drench as untested." : bar.next_step;
  }

  /// What to do about worms that survive, whatever the verdict on all worms together.
  std::string against_survivors() const {
    const std::string then = fmt::format(
        "choose with your veterinarian what still kills it, and {} again after its use.",
        survivors_by_culture_alone() ? "have larvae cultured" : "tell the eggs or larvae apart");
    if (!excuse_.empty())
      return fmt::format("{}do not count on it against {}: {}", put_right_first(),
                         listed(surviving_), then);
    const bool verdict_on_the_rest =
        judgement_.standing.by_counts_alone != VerdictClass::not_applicable;
    return fmt::format(
        "Do not count on this drench against {}{}. First rule out a wrong weight, dose, or setting "
        "of the gun or syringe; then {}",
        listed(surviving_),
        verdict_on_the_rest
            ? ", whatever the verdict on " + judged_together(evidence_.group, surviving_)
            : std::string(),
        then);
  }

  /// The opening of a sentence that asks to put right what went wrong in the field, before the
  /// drench is blamed. There must be an excuse for the drench.
  std::string put_right_first() const {
    const std::string poor_too = others_poor_too();
    return poor_too.empty()
               ? fmt::format("Put right {}, and repeat the test before blaming the drench. Until "
                             "then ",
                             wrong_)
               : fmt::format("Put right {}, and repeat the test. But the dose is not the whole "
                             "reason: {}. Until then ",
                             wrong_, poor_too);
  }

  std::string go_on_checking() const {
    return fmt::format("In these counts nothing speaks against this drench.{} Go on checking: a "
                       "count on {} after a drench shows early when that changes.",
                       not_looked_at(), days_in_words(field_.days.usual));
  }

  /// " Not looked at: ...", what a good result leaves open; empty if nothing is.
  std::string not_looked_at() const {
    std::vector<std::string> open;
    if (worms_untold(evidence_.group, judgement_.worms))
      open.emplace_back(judgement_.worms.empty()
                            ? "whether one kind of worm lives on (no larvae were told apart)"
                            : "whether one kind of worm lives on (larvae were not told apart both "
                              "before and after treatment)");
    if (evidence_.design == Design::paired && !judgement_.own_fall)
      open.emplace_back(field_.control
                            ? "what the season did (the untreated animals could not tell)"
                            : "what the season did (none was left untreated)");
    return open.empty() ? "" : fmt::format(" Not looked at: {}.", in_words(open));
  }

  /// What an inconclusive result is more likely to mean, so that nobody takes it as leave to go on
  /// as before; empty if it leans to neither side.
  std::string leaning_words() const {
    const std::optional<Leaning>& leaning = judgement_.standing.leaning;
    if (!leaning)
      return {};
    const EfficacyProbabilities& chances = *judgement_.probabilities;
    // The chance is rounded as in the list of chances, so that one chance is never two numbers.
    const auto at_least = [](double chance) {
      const double of_100 = 100 * chance;
      return of_100 >= 99.5 ? std::string("more than 99")
                            : fmt::format("at least about {:.0f}", of_100);
    };
    return *leaning == Leaning::failing
               ? fmt::format("More likely failing than not ({} of 100), but not proven: ",
                             at_least(chances.below_lower))
               : fmt::format("More likely below what is expected than not ({} of 100): ",
                             at_least(chances.below_expected));
  }

  std::string look_at_animals() const {
    const std::string leaning = leaning_words();
    return (leaning.empty() ? "Draw no conclusion yet: "
                            : leaning + "do not rely on it alone until that is settled: ") +
           (wrong_.empty() ? std::string() : fmt::format("put right {}; ", wrong_)) +
           "find out about the animals that did not respond (dosed? weighed? the right tag?), "
           "treat and sample them again, and repeat the test if nothing explains them.";
  }

  std::string repeat() const {
    if (const std::string leaning = leaning_words(); !leaning.empty())
      return leaning +
             (wrong_.empty() ? std::string() : fmt::format("put right {}, and ", wrong_)) +
             "do not rely on it alone until the test is repeated " + how_to_repeat() + ".";
    return "Draw no conclusion either way: " +
           (wrong_.empty() ? std::string() : fmt::format("put right {}, and ", wrong_)) +
           "repeat the test " + how_to_repeat() +
           ". Until then, check counts after each use of this drench.";
  }

  std::string without_verdict() const {
    if (!evidence_.reduction)
      return evidence_.design
                 ? "Check the table; if it is right, choose animals that carry eggs for the next "
                   "test: these have none to lose, and say nothing of this drench. Treat nobody on "
                   "this."
                 : "Check the table, or repeat the test: there is nothing to judge in these "
                   "counts.";
    const Verdict& verdict = judgement_.first_verdict();
    constexpr std::string_view ask = "go over the numbers with your veterinarian";
    if (!verdict.missing_column.empty())
      return fmt::format(
          "There is no verdict: the column {} of the table is missing or empty, and the rules "
          "differ by it. Fill it in and run it again, or {}.",
          verdict.missing_column, ask);
    if (verdict.expected)
      return fmt::format("There is no verdict by {}: it needs limits that these counts do not "
                         "give. {}.",
                         verdict.criteria_title, capitalised(std::string(ask)));
    return fmt::format("There is no verdict by {}: {}. {}; {}.", verdict.criteria_title,
                       verdict.reason, other_rules(), ask);
  }

  /// By which other rules a group is judged that the first has no cut-off for, in words.
  std::string other_rules() const {
    std::vector<std::string> titles;
    for (const Verdict& verdict : judgement_.verdicts)
      if (verdict.verdict_class != VerdictClass::not_applicable)
        titles.push_back(verdict.criteria_title);
    return titles.empty() ? "No published rule known to this program covers what was given"
                          : fmt::format("It is judged by {}", in_words(titles));
  }

  /// How to learn more, by what limits the test: more eggs seen, or more animals.
  std::string how_to_repeat() const {
    const bool eggs_in_plenty = compared_with(evidence_).eggs >= field_practice().plenty_of_eggs;
    const bool few_eggs =
        !eggs_in_plenty && (has(CaveatCode::few_eggs_counted, Severity::serious) ||
                            has(CaveatCode::none_after, Severity::serious) ||
                            has(CaveatCode::detection_limit, Severity::serious));
    const bool few_animals = has(CaveatCode::few_animals, Severity::serious);
    std::string more = fmt::format("with more {}s", sampled_unit(evidence_.after));
    if (few_eggs && few_animals)
      return more + " and a finer count (a lower factor)";
    if (few_eggs)
      return "with a finer count (a lower factor, or more chambers of each sample)";
    if (few_animals || eggs_in_plenty)
      return more;
    return more + ", or a finer count after treatment";
  }

  std::string what_survived() const {
    const std::string names = listed(surviving_);
    const std::string doubtful = listed(doubtful_);
    if (!names.empty())
      return fmt::format(". What survived was {}{}.", names,
                         doubtful.empty() ? "" : fmt::format("; {} may have, too", doubtful));
    if (!doubtful.empty())
      return fmt::format(". What may have survived is {}.", doubtful);
    return worms_untold(evidence_.group, judgement_.worms)
               ? ", and have larvae cultured to see which worm survived."
               : ".";
  }

  /// What went wrong in the field and can make a good drench look poor; empty if nothing did. A
  /// second sample taken early flatters a drench, and one taken some days late does it no harm
  /// before newly picked-up worms lay: neither excuses a fall that is too small.
  std::string excuse_of_the_drench() const {
    std::string what;
    if (has(CaveatCode::underdosed, Severity::warning))
      what = field_.doses.one_dose_ml
                 ? "the dose (weigh the animals, and give each the label's dose for its own weight)"
                 : "the dose of the animals that got too little";
    const std::optional<int>& last = field_.days.last_day;
    if (last && *last > field_practice().last_day)
      what += (what.empty() ? "" : " and ") + day_of_second_sample();
    return what;
  }

  /// All that went wrong in the field, and is to be right in the next test.
  std::string to_put_right() const {
    const bool wrong_day = has(CaveatCode::sampled_early, Severity::warning) ||
                           has(CaveatCode::sampled_late, Severity::warning);
    const std::string day = day_of_second_sample();
    if (!wrong_day || excuse_.ends_with(day))
      return excuse_;
    return excuse_ + (excuse_.empty() ? "" : " and ") + day;
  }

  std::string day_of_second_sample() const {
    return fmt::format("the day of the second sample ({})", days_in_words(field_.days.usual));
  }

  /// A sentence for the case that the animals that were given enough did badly too; else empty.
  std::string others_poor_too() const {
    const auto& others = field_.doses.reduction_without_under;
    const std::optional<double> threshold = lowest_threshold(judgement_.first_verdict());
    if (evidence_.design != Design::paired || !others || !threshold || *others >= *threshold)
      return {};
    return *others < 0 ? "the counts of those given enough did not fall"
                       : fmt::format("the counts of those given enough fell by only {}",
                                     percent_beside(*others, *threshold));
  }

  /// Whether all of the surviving worms were told apart by their larvae.
  bool survivors_by_culture_alone() const {
    return std::ranges::all_of(judgement_.worms, [&](const WormAnalysis& worm) {
      return worm.source == WormSource::larval_culture ||
             std::ranges::find(surviving_, worm.worm) == surviving_.end();
    });
  }

  /// How to use a drench that meets its rule where worms may survive. Where a bar took a worm's
  /// class away, the advice is what lifts that bar, since telling more larvae apart would not.
  Wording with_doubtful_worms() const {
    std::vector<std::string> told;
    Wording steps;
    bool others = false;
    for (const WormAnalysis& worm : judgement_.worms) {
      if (!may_survive(worm))
        continue;
      const Standing& standing = worm.judgement.standing;
      if (!is_barred(standing)) {
        others = true;
        continue;
      }
      const Wording& step = standing.bars.front().next_step;
      if (std::ranges::find(told, step.text()) != told.end())
        continue;
      told.push_back(step.text());
      steps += step + " ";
    }
    if (!told.empty() && others)
      steps += "Have more larvae or eggs told apart, too. ";
    const std::string against =
        fmt::format("The rule is met by {}, but do not count on this drench against {} ",
                    judged_together(evidence_.group, doubtful_), listed(doubtful_));
    const Wording until =
        told.empty() ? Wording("until a test with more larvae or eggs told apart has shown it. ")
                     : "yet. " + steps;
    return against + until + "Check counts after each use.";
  }

  /// How to use a drench that meets its rule, for this reason of care.
  Wording with_care(Care care) const {
    constexpr std::string_view again = "can hide resistance: put that right and test again before "
                                       "trusting this drench.";
    switch (care) {
    case Care::later_visit:
      return "The rule is met on the day of the test, but not on a later one, too soon for newly "
             "picked-up worms to lay: do not rely on this drench alone, and repeat the test with "
             "the second sample on the later day.";
    case Care::worm_may_survive:
      return with_doubtful_worms();
    case Care::larvae_without_eggs:
      return "The rule is met, but larvae hatched where no egg was counted: count these samples "
             "again with a finer method before trusting it, and check counts after each use of "
             "this drench.";
    case Care::truth_may_be_lower:
      return fmt::format("The rule is met, but the true fall {} below what is expected. Use this "
                         "drench with care, check counts after each use, and test again soon {}.",
                         judgement_.probabilities->below_expected > 0.5 ? "is more likely than not"
                                                                        : "may well be",
                         how_to_repeat());
    case Care::stricter_rule:
      return fmt::format(
          "By the rule shown first this drench is good enough, but not by all others "
          "({}). Use it with care, check counts after each use, and test again soon.",
          fmt::join(criteria_not_met(judgement_.verdicts), "; "));
    case Care::repeats_disagree:
      return "The rule is met, but counts of one sample differ by more than luck: look into the "
             "counting, and count the samples again, before trusting it.";
    case Care::sampled_early:
      return fmt::format("The rule is met, but a second sample taken too early {}", again);
    case Care::sampled_long_before:
      return "The rule is met, but the first sample was taken so long before the drench that "
             "counts may have fallen by themselves: test again, with the first sample on the day "
             "of the drench or in the week before it, before trusting this drench.";
    case Care::overdosed:
      return fmt::format("The rule is met, but some animals got far more than the label's dose, "
                         "which {}",
                         again);
    case Care::missing_after:
      return "The rule is met, but it hangs on the animals missing after treatment: find out what "
             "became of them, and check counts after each use of this drench.";
    case Care::few_eggs:
      return fmt::format("The rule is met, but by so few eggs that a drench too weak for it could "
                         "look as good by luck: test again {} before trusting this drench, and "
                         "check counts after each use.",
                         how_to_repeat());
    case Care::few_animals:
      return "The rule is met, but by so few animals that an odd one can decide it: test again "
             "with as many as the guidelines ask for before trusting this drench, and check counts "
             "after each use.";
    case Care::other_warning:
      break;
    }
    return "The rule is met, but look into the warnings of this test before trusting it. Check "
           "counts after each use of this drench.";
  }

  const GroupEvidence& evidence_;
  const FieldCheck& field_;
  const Judgement& judgement_;
  const std::vector<Caveat>& caveats_;
  std::vector<std::string> surviving_;
  std::vector<std::string> doubtful_;
  std::string excuse_; ///< excuse_of_the_drench().
  std::string wrong_;  ///< to_put_right().
};

/// " Eggs came back sooner ...", of a drench that has not failed already; empty if they did not.
std::string after_early_return(const Standing& standing, const VisitCourse& course) {
  const EarlyReturn early = early_return(course, standing.verdict_class);
  if (early == EarlyReturn::none)
    return {};
  return fmt::format(" But eggs {} back sooner after it than is expected of this drench: go over "
                     "the visits with your veterinarian before its next use.",
                     early == EarlyReturn::sure ? "came" : "likely came");
}

} // namespace

Advice advise(const GroupEvidence& evidence, const FieldCheck& field, const Judgement& judgement,
              const std::vector<Caveat>& caveats, const VisitCourse& course) {
  return {Adviser(evidence, field, judgement, caveats).next_step() +
          after_early_return(judgement.standing, course)};
}

} // namespace eggfall
