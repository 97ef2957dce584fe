#include "eggfall/judgement/advice.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/caveat_words.hpp"
#include "judgement/field_caveats.hpp"
#include "judgement/worms.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>

namespace eggfall {
namespace {

bool has(const GroupAnalysis& analysis, std::string_view code, Severity severity) {
  return std::ranges::any_of(analysis.caveats, [&](const Caveat& caveat) {
    return caveat.code == code && caveat.severity == severity;
  });
}

/// Chance of a true fall below what is expected from which a drench that meets the rule is used
/// with care (practice).
constexpr double may_fall_short = 1.0 / 3;

std::string how_to_repeat(const GroupAnalysis& analysis) {
  const bool few_eggs = has(analysis, "few-eggs-counted", Severity::serious) ||
                        has(analysis, "detection-limit", Severity::serious);
  const bool few_animals = has(analysis, "few-animals", Severity::serious);
  std::string more = fmt::format("with more {}s", sampled_unit(analysis.after));
  if (few_eggs && few_animals)
    return more + " and a finer count (a lower factor)";
  if (few_eggs)
    return "with a finer count (a lower factor, or more chambers of each sample)";
  if (few_animals)
    return more;
  return more + ", or a finer count after treatment";
}

std::string what_survived(const GroupAnalysis& analysis) {
  const std::string names = listed(worms_that(survives, analysis.worms));
  const std::string doubtful = listed(worms_that(may_survive, analysis.worms));
  if (!names.empty())
    return fmt::format(". What survived was {}{}.", names,
                       doubtful.empty() ? "" : fmt::format("; {} may have, too", doubtful));
  if (!doubtful.empty())
    return fmt::format(". What may have survived is {}.", doubtful);
  return worms_untold(analysis) ? ", and have larvae cultured to see which worm survived." : ".";
}

/// What went wrong in the field and can make a good drench look poor; empty if nothing did.
std::string to_put_right(const GroupAnalysis& analysis) {
  std::string what;
  if (has(analysis, "underdosed", Severity::warning))
    what = analysis.doses.one_dose_ml
               ? "the dose (weigh the animals and set the gun for the heaviest)"
               : "the dose of the animals that got too little";
  if (has(analysis, "sampled-early", Severity::warning) ||
      has(analysis, "sampled-late", Severity::warning))
    what += fmt::format("{}the day of the second sample ({})", what.empty() ? "" : " and ",
                        days_in_words(analysis.days.usual));
  return what;
}

/// Says so where the animals that were given enough did badly too.
std::string others_poor_too(const GroupAnalysis& analysis) {
  const auto& others = analysis.doses.reduction_without_under;
  const Verdict& verdict = analysis.verdicts.front();
  const auto& threshold = verdict.lower ? verdict.lower : verdict.expected;
  if (analysis.design != Design::paired || !others || !threshold || *others >= *threshold)
    return {};
  return *others < 0 ? "the counts of those given enough did not fall"
                     : fmt::format("those given enough fell by {} only",
                                   percent_beside(*others, *threshold));
}

/// Whether all of `worms` were told apart by their larvae.
bool by_culture_alone(const std::vector<std::string>& worms, const GroupAnalysis& analysis) {
  return std::ranges::all_of(analysis.worms, [&](const WormAnalysis& worm) {
    return worm.source == WormSource::larval_culture ||
           std::ranges::find(worms, worm.worm) == worms.end();
  });
}

/// The other criteria by which the group is not susceptible; empty if there are none.
std::string not_met(const GroupAnalysis& analysis) {
  std::vector<std::string> titles;
  for (const Verdict& verdict : analysis.verdicts)
    if (verdict.verdict_class != VerdictClass::susceptible &&
        verdict.verdict_class != VerdictClass::inconclusive &&
        verdict.verdict_class != VerdictClass::not_applicable)
      titles.push_back(verdict.criteria_title);
  return fmt::format("{}", fmt::join(titles, "; "));
}

/// What in the field work can make a poor drench look good, and what to do; empty if nothing.
std::string flattered(const GroupAnalysis& analysis) {
  constexpr std::string_view again = "can hide resistance: put that right and test again before "
                                     "trusting this drench.";
  if (has(analysis, "sampled-early", Severity::warning))
    return fmt::format("The rule is met, but a second sample taken too early {}", again);
  if (has(analysis, "overdosed", Severity::warning))
    return fmt::format("The rule is met, but some animals got far more than the label's dose, "
                       "which {}",
                       again);
  if (has(analysis, "missing-after", Severity::warning))
    return "The rule is met, but it hangs on the animals missing after treatment: find out what "
           "became of them, and check counts after each use of this drench.";
  return {};
}

} // namespace

std::string reason_for_care(const GroupAnalysis& analysis) {
  if (const auto doubtful = worms_that(may_survive, analysis.worms); !doubtful.empty())
    return fmt::format("The rule is met by {}, but do not count on this drench against {} until "
                       "a test with more larvae or eggs told apart has shown it. Check counts "
                       "after each use.",
                       judged_together(analysis, doubtful), listed(doubtful));
  if (has(analysis, "larvae-without-eggs", Severity::serious))
    return "The rule is met, but larvae hatched where no egg was counted: count these samples "
           "again with a finer method before trusting it, and check counts after each use of "
           "this drench.";
  if (analysis.probabilities && analysis.probabilities->below_expected > may_fall_short)
    return fmt::format("The rule is met, but the true fall {} below what is expected. Use this "
                       "drench with care, check counts after each use, and test again soon with "
                       "a finer count.",
                       analysis.probabilities->below_expected > 0.5 ? "is more likely than not"
                                                                    : "may well be");
  if (const std::string stricter = not_met(analysis); !stricter.empty())
    return fmt::format("By the rule shown first this drench is good enough, but not by all others "
                       "({}). Use it with care, check counts after each use, and test again soon.",
                       stricter);
  if (has(analysis, "repeats-disagree", Severity::warning))
    return "The rule is met, but counts of one sample differ by more than luck: look into the "
           "counting, and count the samples again, before trusting it.";
  if (std::string doubt = flattered(analysis); !doubt.empty())
    return doubt;
  if (!analysis.caveats.empty() && (analysis.caveats.front().severity == Severity::serious ||
                                    has(analysis, "one-animal", Severity::warning)))
    return "The rule is met, but look into the warnings of this test before trusting it. Check "
           "counts after each use of this drench.";
  return {};
}

std::string next_step(const GroupAnalysis& analysis) {
  const std::string wrong = to_put_right(analysis);
  const std::string poor_too = others_poor_too(analysis);
  const std::string blame_later =
      poor_too.empty()
          ? fmt::format("Put right {}, and repeat the test before blaming the drench. Until then ",
                        wrong)
          : fmt::format("Put right {}, and repeat the test. But the dose is not the whole reason: "
                        "{}. Until then ",
                        wrong, poor_too);
  if (const auto surviving = worms_that(survives, analysis.worms);
      !surviving.empty() && analysis.verdicts.front().verdict_class != VerdictClass::resistant) {
    const bool verdict_on_the_rest =
        analysis.verdicts.front().verdict_class != VerdictClass::not_applicable;
    const std::string then = fmt::format(
        "choose with your veterinarian what still kills it, and {} again after its use.",
        by_culture_alone(surviving, analysis) ? "have larvae cultured"
                                              : "tell the eggs or larvae apart");
    return wrong.empty()
               ? fmt::format("Do not count on this drench against {}{}. First rule out a wrong "
                             "weight, dose, or setting of the gun or syringe; then {}",
                             listed(surviving),
                             verdict_on_the_rest ? ", whatever the verdict on " +
                                                       judged_together(analysis, surviving)
                                                 : std::string(),
                             then)
               : fmt::format("{}do not count on it against {}: {}", blame_later, listed(surviving),
                             then);
  }
  switch (analysis.verdicts.front().verdict_class) {
  case VerdictClass::susceptible:
    if (std::string care = reason_for_care(analysis); !care.empty())
      return care;
    return fmt::format("Nothing here speaks against this drench on this farm. Go on checking: a "
                       "count on {} after a drench shows early when that changes.",
                       days_in_words(analysis.days.usual));
  case VerdictClass::low_resistant:
    if (!wrong.empty())
      return blame_later + "take it that some worms survive it.";
    return "The drench still removes most worms, but some survive it. Plan with your veterinarian "
           "how to slow this down, and test again next season.";
  case VerdictClass::resistant:
    if (!wrong.empty())
      return blame_later + "do not rely on it alone here: choose another with your veterinarian" +
             what_survived(analysis);
    return "Do not rely on this drench alone here. First rule out a wrong weight, dose, or setting "
           "of the gun or syringe; then choose another with your veterinarian" +
           what_survived(analysis);
  case VerdictClass::suspected:
    if (!wrong.empty())
      return blame_later + "take it as a warning, not as proof.";
    return "Take it as a warning, not as proof: repeat the test " + how_to_repeat(analysis) +
           " before relying on this drench.";
  case VerdictClass::inconclusive:
    if (analysis.outside_posterior)
      return "Draw no conclusion yet: " +
             (wrong.empty() ? std::string() : fmt::format("put right {}; ", wrong)) +
             "find out about the animals that did not respond (dosed? weighed? the right tag?), "
             "treat and sample them again, and repeat the test if nothing explains them.";
    return "Draw no conclusion either way: " +
           (wrong.empty() ? std::string() : fmt::format("put right {}, and ", wrong)) +
           "repeat the test " + how_to_repeat(analysis) +
           ". Until then, check counts after each use of this drench.";
  case VerdictClass::not_applicable:
    break;
  }
  if (!analysis.reduction)
    return "Check the table, or repeat the test: there is nothing to judge in these counts.";
  return fmt::format("There is no verdict: {}. Add what is missing to the table and run it again, "
                     "or go over the numbers with your veterinarian.",
                     analysis.verdicts.front().reason);
}

} // namespace eggfall
