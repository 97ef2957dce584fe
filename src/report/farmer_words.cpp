#include "report/farmer_words.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "judgement/egg_reappearance.hpp"
#include "judgement/eggs_left.hpp"
#include "judgement/sample_words.hpp"
#include "judgement/worm_analysis.hpp"
#include "report/visit_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace eggfall {
namespace {

/// The numbers of the eggs left as they are told: of so many, and the limits in whole eggs.
struct ToldEggs {
  double found = 0;
  double least = 0;       ///< Rounded down, and
  double most = 0;        ///< up: a limit that is rounded inward says too much.
  bool below_one = false; ///< Fewer than one may be left at most.
  std::string out_of;     ///< "100" or "1,000".
};

/// The eggs left must have limits, or these are not to be used.
ToldEggs told_eggs(const EggsLeft& left) {
  constexpr double noise = 1e-9; // of the arithmetic
  const double times = left.told_of / 100.0;
  const double most = times * left.most.value_or(0);
  return {times * left.found, std::floor(times * left.least.value_or(0) + noise),
          std::ceil(most - noise), most < 1, left.told_of == 1000 ? "1,000" : "100"};
}

/// "up to 120"; of more eggs than are told apart "over 999".
std::string up_to(double eggs) {
  return (std::round(eggs) > most_eggs_told ? "" : "up to ") + whole_eggs(eggs);
}

std::string dates_words(const DateRange& range) {
  return range.first == range.last
             ? date_in_words(range.first)
             : fmt::format("{} to {}", date_in_words(range.first), date_in_words(range.last));
}

/// "First sample Mon 12 May 2031, drench ..., second sample ...", as far as dates are known.
std::string dates_sentence(const DayCheck& days) {
  std::vector<std::string> parts;
  const auto add = [&](const char* what, const std::optional<DateRange>& dates) {
    if (dates)
      parts.push_back(fmt::format("{} on {}", what, dates_words(*dates)));
  };
  add("first sample", days.first_samples);
  add("drench", days.treatments);
  add("second sample", days.second_samples);
  return parts.empty() ? "" : capitalised(in_words(parts)) + ". ";
}

/// "It may be 4 to 15." Numbers of the eggs left.
std::string range_words(const EggsLeft& left) {
  const ToldEggs eggs = told_eggs(left);
  if (eggs.found == 0)
    return fmt::format("Allowing for luck, {} of every {} may be left.",
                       eggs.below_one ? "fewer than 1" : "up to " + whole_eggs(eggs.most),
                       eggs.out_of);
  if (eggs.below_one)
    return eggs.found < 0.5 ? "Allowing for luck, it is still fewer than 1."
                            : "Allowing for luck, it is 1 at most.";
  if (eggs.least == eggs.most)
    return "Luck can hardly have changed that.";
  return eggs.least < 1 ? fmt::format("Allowing for luck, it may be anything {}.", up_to(eggs.most))
                        : fmt::format("Allowing for luck, it may be {} to {}.",
                                      whole_eggs(eggs.least), whole_eggs(eggs.most));
}

std::string eggs_words(const GroupAnalysis& analysis, const EggsLeft& left) {
  const bool without_season =
      analysis.evidence.design == Design::controlled || analysis.judgement.own_fall;
  if (left.found > 100) {
    const std::string more = whole_eggs(left.found);
    if (without_season)
      return fmt::format("Set against the untreated animals, there were more worm eggs after the "
                         "drench: {} for every 100.",
                         more);
    return pairs_animals(*analysis.evidence.design)
               ? fmt::format("There were more worm eggs after the drench than before: {} for every "
                             "100.",
                             more)
               : fmt::format("The treated animals had more worm eggs than the untreated: {} for "
                             "every 100.",
                             more);
  }
  if (left.found == 0)
    return pairs_animals(*analysis.evidence.design)
               ? "No worm egg was found after the drench."
               : "No worm egg was found in the treated animals.";
  const ToldEggs eggs = told_eggs(left);
  const bool one = eggs.found > 0 && eggs.found < 1.5;
  const std::string were = one ? "was" : "were";
  if (without_season)
    return fmt::format("Set against the untreated animals, {} of every {} worm eggs {} left after "
                       "the drench.",
                       eggs_in_words(eggs.found), eggs.out_of, were);
  if (!pairs_animals(*analysis.evidence.design))
    return fmt::format("For every {} worm eggs in untreated animals, the treated ones had {}.",
                       eggs.out_of, eggs_in_words(eggs.found));
  return fmt::format("Of every {} worm eggs before the drench, {} {} left after it.", eggs.out_of,
                     eggs_in_words(eggs.found), were);
}

/// " of 1,000", where a tray of 100 eggs stands beside.
std::string_view of_thousand(int told_of) {
  return told_of == 1000 ? " of 1,000" : "";
}

/// Empty of a worm that survives: the words of the standing name it.
std::string_view bar_in_short(BarCode code) {
  switch (code) {
  case BarCode::not_covered:
    return "no rule here is for this host or worm";
  case BarCode::units_in_doubt:
    return "the counts look as if typed wrongly";
  case BarCode::day:
    return "the second sample was on a day that cannot show it";
  case BarCode::control:
    return "untreated animals' counts moved too";
  case BarCode::missing:
    return "animals were missing at the second sample";
  case BarCode::dose:
    return "the doses given may be the reason";
  case BarCode::goat_dose:
    return "goats at a dose made for sheep";
  case BarCode::few_animals:
    return "too few animals";
  case BarCode::few_eggs:
    return "too few eggs counted";
  case BarCode::narrow_drench:
    return "the worms were not told apart";
  case BarCode::surviving_worm:
    break;
  }
  return "";
}

std::string_view care_in_short(Care care) {
  switch (care) {
  case Care::later_visit:
    return "a later count was far too high";
  case Care::worm_may_survive:
    return "a worm may live on";
  case Care::larvae_without_eggs:
    return "larvae hatched where no egg was seen";
  case Care::truth_may_be_lower:
    return "the truth may well be lower";
  case Care::stricter_rule:
    return "a stricter rule calls it failing";
  case Care::repeats_disagree:
    return "counts of one sample disagree";
  case Care::sampled_early:
    return "sampled early: worms may only have stopped laying";
  case Care::sampled_long_before:
    return "the first sample was too long before the drench";
  case Care::overdosed:
    return "the dose was high, which hides early failure";
  case Care::missing_after:
    return "animals were missing at the second sample";
  case Care::few_eggs:
    return "few eggs were counted, and luck weighs heavily";
  case Care::few_animals:
    return "few animals were tested";
  case Care::other_warning:
    break;
  }
  return "see the warning below";
}

} // namespace

std::string_view sign_words(DrenchSign sign) {
  switch (sign) {
  case DrenchSign::works:
    return "Works";
  case DrenchSign::works_with_care:
    return "Works, but take care";
  case DrenchSign::some_survive:
    return "Some worms live on";
  case DrenchSign::may_fail:
    return "May be failing";
  case DrenchSign::failing:
    return "Failing";
  case DrenchSign::cannot_tell:
    break;
  }
  return "Can't tell yet";
}

std::string standing_words(const Standing& standing) {
  std::string words(sign_words(standing.sign));
  if (!standing.bars.empty() && standing.bars.front().code == BarCode::surviving_worm)
    words = standing.bars.front().plain;
  if (words.ends_with('.'))
    words.pop_back();
  constexpr std::string_view of_the_drench = "It ";
  if (words.starts_with(of_the_drench))
    words = capitalised(words.substr(of_the_drench.size()));
  return standing.leaning ? words + ", looks poor" : words;
}

std::string sign_drawing(DrenchSign sign) {
  pugi::xml_document document;
  pugi::xml_node svg = add_svg(document, sign_words(sign), "");
  svg.remove_child("desc");
  set(svg, "viewBox", "0 0 24 24");
  set(svg, "class", "sign");
  const auto stroked = [](pugi::xml_node node, std::string_view colour) {
    set(node, "stroke", colour);
    set(node, "stroke-width", 2.5);
    set(node, "stroke-linecap", "round");
  };
  const auto cross = [&](std::string_view colour) {
    stroked(add_line(svg, {8, 8}, {16, 16}), colour);
    stroked(add_line(svg, {16, 8}, {8, 16}), colour);
  };
  const auto paper = [&](bool round, bool full) {
    pugi::xml_node shape = round ? add_dot(svg, {12, 12}, 10) : add_box(svg, {2, 2, 20, 20}, "");
    stroked(shape, ink);
    set(shape, "fill", full ? ink : paper_colour);
  };
  const auto tick = [&](std::string_view colour) {
    stroked(add_line(svg, {7, 12.5}, {10.5, 16}), colour);
    stroked(add_line(svg, {10.5, 16}, {17, 8.5}), colour);
  };
  switch (sign) {
  case DrenchSign::works:
    paper(true, true);
    tick(paper_colour);
    break;
  case DrenchSign::works_with_care:
    paper(true, false);
    tick(ink);
    break;
  case DrenchSign::some_survive:
  case DrenchSign::may_fail:
    paper(false, false);
    cross(ink);
    break;
  case DrenchSign::failing:
    paper(false, true);
    cross(paper_colour);
    break;
  case DrenchSign::cannot_tell: {
    paper(true, false);
    pugi::xml_node mark = add_label(svg, {12, 17}, "?", Anchor::middle, 15);
    set(mark, "font-weight", "bold");
    set(mark, "font-family", "Arial, sans-serif");
    set(mark, "fill", ink);
    break;
  }
  }
  return svg_text(document);
}

std::string farmer_title(const TrialAnalysis& trial) {
  return fmt::format("{} still work? {}",
                     trial.groups.size() == 1 ? "Does the drench" : "Do the drenches", trial.trial);
}

std::string setting_words(const TrialAnalysis& trial) {
  std::set<std::string> dates;
  std::set<std::string> hosts;
  for (const GroupAnalysis& group : trial.groups) {
    dates.insert(dates_sentence(group.field.days));
    hosts.insert(group.evidence.group.host);
  }
  std::string text = dates.size() == 1 ? *dates.begin() : "";
  std::vector<std::string> groups;
  for (const GroupAnalysis& group : trial.groups)
    groups.push_back(
        fmt::format("{} ({})", group.evidence.group.name, sampled_in_words(group.evidence.after)));
  const std::string host =
      hosts.size() == 1 && !hosts.begin()->empty() ? " in " + *hosts.begin() : "";
  return text + fmt::format("Tested{}: {}.", host, in_words(groups));
}

std::string fall_sentences(const GroupAnalysis& analysis) {
  const auto left = eggs_left(analysis.evidence, analysis.judgement);
  if (!left)
    return "Nothing could be compared, so this test says nothing of the drench.";
  return eggs_words(analysis, *left) + ' ' +
         (left->most ? range_words(*left) : std::string("How sure that is cannot be worked out."));
}

std::string sign_sentence(const GroupAnalysis& analysis) {
  switch (analysis.judgement.standing.sign) {
  case DrenchSign::works:
    return "That is what a drench that works does.";
  case DrenchSign::works_with_care:
    return "That is enough for the rule, but there is a reason for care.";
  case DrenchSign::some_survive:
    return "Most worms die, but more live on than should.";
  case DrenchSign::may_fail:
    return "That may be too many.";
  case DrenchSign::failing:
    return "That is too many.";
  case DrenchSign::cannot_tell:
    break;
  }
  if (analysis.judgement.standing.leaning)
    return "A drench that works could give this, but one that does less than it should is "
           "likelier.";
  return analysis.judgement.standing.verdict_class == VerdictClass::not_applicable
             ? "No rule at hand says if that is enough."
             : "A drench that works could give this, and so could one that fails.";
}

std::string meaning_sentences(const GroupAnalysis& analysis) {
  const std::vector<Bar>& bars = analysis.judgement.standing.bars;
  if (bars.empty())
    return sign_sentence(analysis);
  const Bar& first = bars.front();
  if (gives_own_verdict(first))
    return sign_sentence(analysis) + ' ' + first.plain;
  return first.code == BarCode::surviving_worm
             ? first.plain
             : first.plain + " So this test cannot tell if the drench works.";
}

std::string provided_sentence(const Standing& standing) {
  return standing.provided.empty() ? "" : fmt::format("This holds if {}.", standing.provided);
}

std::string numbers_sentences(const GroupAnalysis& analysis) {
  const Standing& standing = analysis.judgement.standing;
  const std::string fall = fall_sentences(analysis);
  if (!is_barred(standing))
    return fall;
  const std::string within = lower_case(fall.substr(0, 1)) + fall.substr(1);
  switch (standing.bars.front().code) {
  case BarCode::surviving_worm:
    return "Of the worms that were counted together: " + within;
  case BarCode::control:
    return "As far as the untreated animals tell: " + within;
  default:
    return "The counts alone, which do not decide here: " + within;
  }
}

std::string farmer_sentences(const GroupAnalysis& analysis) {
  if (!eggs_left(analysis.evidence, analysis.judgement))
    return fall_sentences(analysis);
  // Behind a bar the numbers would be heard as the answer, so what they mean comes first.
  std::string text = is_barred(analysis.judgement.standing)
                         ? meaning_sentences(analysis) + ' ' + numbers_sentences(analysis)
                         : fall_sentences(analysis) + ' ' + meaning_sentences(analysis);
  const std::string provided = provided_sentence(analysis.judgement.standing);
  return provided.empty() ? text : text + ' ' + provided;
}

std::vector<const Caveat*> caveats_for_farmer(const GroupAnalysis& analysis) {
  const std::vector<Bar>& bars = analysis.judgement.standing.bars;
  const Standing& standing = analysis.judgement.standing;
  const bool missing_told = standing.care == Care::missing_after ||
                            (!bars.empty() && bars.front().code == BarCode::missing);
  const bool worm_told = !bars.empty() && bars.front().code == BarCode::surviving_worm;
  std::vector<const Caveat*> told;
  for (const Caveat& caveat : analysis.caveats) {
    if (worm_told && caveat.code == CaveatCode::worm_survives) // in plain words
      continue;
    if (caveat.severity == Severity::serious || caveat.code == CaveatCode::overdosed ||
        caveat.code == CaveatCode::one_animal ||
        (caveat.code == CaveatCode::missing_after && caveat.severity == Severity::warning &&
         !missing_told))
      told.push_back(&caveat);
  }
  return told;
}

std::string_view plain_words_of(CaveatCode code) {
  switch (code) {
  case CaveatCode::no_interval:
    return "How far luck alone may have moved the result cannot be worked out.";
  case CaveatCode::few_animals:
    return "Fewer animals were tested than the rules ask for: one odd animal can decide the "
           "result.";
  case CaveatCode::pooled:
    return "The samples of several animals were mixed: one that was missed, or got too little, "
           "cannot be seen.";
  case CaveatCode::mean_implausible:
    return "More eggs were written down than animals carry: the numbers may be typed wrongly.";
  case CaveatCode::few_eggs_counted:
    return "So few eggs were counted that luck weighs heavily: even a good drench could hardly "
           "show that it is good.";
  case CaveatCode::none_after:
    return "So few eggs were counted before the drench that one too weak for the rule could leave "
           "none to see, by luck.";
  case CaveatCode::underdosed:
    return "Some animals got too little of the drench, and those given enough did better.";
  case CaveatCode::interval_optimistic:
    return "Few animals had eggs after the drench, so the range is likely too narrow.";
  case CaveatCode::animals_differ:
    return "Most animals fell alike and a few did not: look at those first (undosed, underdosed, "
           "or carrying other worms?).";
  case CaveatCode::detection_limit:
    return "The count was too coarse: one egg more or less after the drench could change the "
           "answer.";
  case CaveatCode::missing_after:
    return "Not every animal was found again, and what became of the missing could change this "
           "answer.";
  case CaveatCode::worm_survives:
    return "One kind of worm survives this drench: see the table.";
  case CaveatCode::worm_in_doubt:
    return "One kind of worm may survive this drench: see the table.";
  default:
    return {};
  }
}

std::string caveat_in_short(const Caveat& caveat) {
  const std::string_view plain = plain_words_of(caveat.code);
  return plain.empty() ? caveat.text : std::string(plain);
}

std::string what_to_do(const GroupAnalysis& analysis) {
  const Standing& standing = analysis.judgement.standing;
  const std::string advice = analysis.advice.next_step.text();
  if (standing.bars.empty()) {
    const bool nothing = !eggs_left(analysis.evidence, analysis.judgement);
    return standing.verdict_class != VerdictClass::not_applicable || nothing
               ? advice
               : "Go over the numbers with your veterinarian: there is no verdict yet.";
  }
  const Bar& first = standing.bars.front();
  std::string_view plain;
  if (first.code == BarCode::units_in_doubt)
    plain = "Do nothing by these numbers yet: the bench sheet must be looked at first.";
  else if (first.code == BarCode::narrow_drench)
    plain = "Have larvae cultured from both samples, so that each kind of worm can be judged.";
  else if (first.code == BarCode::not_covered)
    plain = "Go over the numbers with your veterinarian.";
  const std::string step = first.next_step.text();
  // What the advice adds to the bar's own step, as not to rely on the drench, stays.
  if (!first.next_step.mentions_setting() || plain.empty() || !advice.starts_with(step))
    return advice;
  return std::string(plain) + advice.substr(step.size());
}

std::string found_in_short(const EggsLeft& left) {
  if (left.found == 0)
    return "none found";
  if (left.found > 100)
    return whole_eggs(left.found);
  const ToldEggs eggs = told_eggs(left);
  return eggs_in_words(eggs.found) + (left.told_of == 100 ? "" : " of " + eggs.out_of);
}

std::string range_in_short(const EggsLeft& left) {
  if (!left.most)
    return "not known";
  const ToldEggs eggs = told_eggs(left);
  if (eggs.below_one)
    return eggs.found < 0.5 ? "fewer than 1" : "up to 1";
  if (eggs.least == eggs.most)
    return whole_eggs(eggs.most);
  return eggs.least < 1 ? up_to(eggs.most)
                        : fmt::format("{} to {}", whole_eggs(eggs.least), whole_eggs(eggs.most));
}

std::string tray_numbers(const EggsLeft& left) {
  const ToldEggs eggs = told_eggs(left);
  if (left.found == 0)
    return !left.most
               ? "no egg found"
               : fmt::format("no egg found; could be {} of {}",
                             eggs.below_one ? "fewer than 1" : up_to(eggs.most), eggs.out_of);
  const std::string text =
      left.found > 100 ? fmt::format("{} for every 100", whole_eggs(left.found))
                       : fmt::format("{} of {} left", eggs_in_words(eggs.found), eggs.out_of);
  if (!left.most || left.found > most_eggs_told || eggs.below_one || eggs.least == eggs.most)
    return text;
  if (eggs.least < 1)
    return text + (eggs.most == std::round(eggs.found)
                       ? "; could be fewer"
                       : fmt::format("; could be {}", up_to(eggs.most)));
  return text + fmt::format("; could be {} to {}", whole_eggs(eggs.least), whole_eggs(eggs.most));
}

std::string early_return_in_short(const GroupAnalysis& analysis) {
  const Standing& standing = analysis.judgement.standing;
  const EarlyReturn early = early_return(analysis.course, standing.verdict_class);
  if (early == EarlyReturn::none)
    return {};
  const EggReappearance& eggs = *analysis.course.reappearance;
  const auto test = std::ranges::find_if(analysis.course.visits, &VisitFall::is_test);
  const bool worked = standing.verdict_class == VerdictClass::susceptible &&
                      test != analysis.course.visits.end() && test->day;
  const std::optional<int> back =
      eggs.first_day_back ? eggs.first_day_back : std::optional(eggs.chances.back().day);
  return fmt::format("{}eggs were {}back too soon ({}{})",
                     worked ? fmt::format("worked on day {}, but ", *test->day) : "",
                     early == EarlyReturn::likely ? "likely " : "", visit_name(back),
                     eggs.expected ? fmt::format("; {} to {} weeks expected", eggs.expected->first,
                                                 eggs.expected->last)
                                   : "");
}

std::string doubt_in_short(const Standing& standing) {
  if (is_barred(standing))
    return std::string(bar_in_short(standing.bars.front().code));
  return standing.care ? std::string(care_in_short(*standing.care)) : "";
}

std::string short_reason(const GroupAnalysis& analysis) {
  const Standing& standing = analysis.judgement.standing;
  const std::vector<WormAnalysis>& worms = analysis.judgement.worms;
  const auto left = eggs_left(analysis.evidence, analysis.judgement);
  const std::string numbers = left ? tray_numbers(*left) : "nothing could be compared";
  if (is_barred(standing)) {
    // What is left of all worms together hides the one that survives.
    const auto surviving = std::ranges::find_if(worms, survives);
    if (standing.bars.front().code == BarCode::surviving_worm && surviving != worms.end())
      if (const auto its = eggs_left(surviving->evidence, surviving->judgement))
        return fmt::format("of {}: {}", surviving->worm, tray_numbers(*its));
    const std::string doubt = doubt_in_short(standing);
    return doubt.empty() ? numbers : doubt;
  }
  if (const std::string early = early_return_in_short(analysis); !early.empty())
    return standing.care ? early + "; " + doubt_in_short(standing) : early;
  if (standing.care)
    return doubt_in_short(standing);
  const bool good = standing.sign == DrenchSign::works;
  std::string reason = numbers;
  if (!good && standing.sign != DrenchSign::cannot_tell && !analysis.field.doses.under.empty())
    reason += "; some doses were short";
  if (good && worms_untold(analysis.evidence.group, worms))
    reason += "; worm kinds not told apart";
  if (!standing.provided.empty())
    reason += "; holds with an if, see below";
  return reason;
}

std::string good_words(double expected, int told_of) {
  return fmt::format("\u2190 good: up to {:.3g}{}", told_of * (1 - expected), of_thousand(told_of));
}

std::string too_many_words(double lower, int told_of) {
  return fmt::format("too many: over {:.3g}{} \u2192", told_of * (1 - lower), of_thousand(told_of));
}

std::string_view tray_key() {
  return "A tray is 100 worm eggs before the drench, or of untreated animals (the first 100 of "
         "1,000, where the words below it are of 1,000). Solid: left after it, by the best "
         "estimate "
         "(the dot). Hatched: may be left too. Outline: gone. Bar: what it could "
         "be, allowing for luck.";
}

std::string luck_words(const TrialAnalysis& trial) {
  return fmt::format("the range that allows for luck is made to hold the truth {:g} times in 100",
                     100 * trial.groups.front().evidence.headline.level);
}

std::string rule_words(const TrialAnalysis& trial) {
  const Verdict& first = trial.groups.front().judgement.first_verdict();
  bool any = false;
  bool alike = true;
  for (const GroupAnalysis& group : trial.groups) {
    const Verdict& verdict = group.judgement.first_verdict();
    any = any || verdict.expected || verdict.lower;
    alike = alike && verdict.criteria_title == first.criteria_title;
  }
  if (!any)
    return "";
  return alike ? first.criteria_title : "the rules that each drench is judged by";
}

std::string limits_words(const TrialAnalysis& trial) {
  const std::string luck = capitalised(luck_words(trial)) + '.';
  const std::string rule = rule_words(trial);
  return rule.empty() ? luck
                      : fmt::format("The limits in the trays are those of {}. {}", rule, luck);
}

std::string control_sentences(const ControlAnalysis& control) {
  if (!control.reduction)
    return "Some animals were left untreated, to compare with.";
  const double left = 100 * (1 - *control.reduction);
  return fmt::format("Untreated animals had {:.0f} eggs at the second sample for every 100 at the "
                     "first: that is what season, feed and luck do without a drench.",
                     left);
}

} // namespace eggfall
