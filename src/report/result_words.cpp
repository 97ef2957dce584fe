#include "report/result_words.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "judgement/larvae_words.hpp"
#include "judgement/sample_words.hpp"
#include "judgement/worm_analysis.hpp"
#include "trial/drug_words.hpp"
#include "trial/egg_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

/// What a ratio above 1 means in each design.
std::string rise_text(const GroupAnalysis& analysis) {
  const std::string rise = percent_beside(-*analysis.evidence.reduction, 0);
  switch (*analysis.evidence.design) {
  case Design::paired:
    return fmt::format("none: counts rose by {}", rise);
  case Design::two_group:
  case Design::baseline:
    return fmt::format("none: counts were {} above the control's", rise);
  case Design::controlled:
    break;
  }
  return fmt::format("none: against the control's, counts rose by {}", rise);
}

/// "812 before (27 eggs seen)"
std::string sample_text(const SampleSummary& sample, std::string_view when) {
  return fmt::format("{} {} ({} egg{} seen)", mean_text(sample.mean_epg), when, sample.eggs,
                     sample.eggs == 1 ? "" : "s");
}

/// Why the chances and the verdict look at odds, where they do.
std::string beside_the_verdict(const Verdict& verdict, const EfficacyProbabilities& chances) {
  if (verdict.verdict_class == VerdictClass::susceptible && chances.below_expected > 0.5)
    return fmt::format("; the rule asks that it is not below {:g}%, not that it reaches {:g}%",
                       100 * *verdict.lower, 100 * *verdict.expected);
  return {};
}

/// What a verdict rests on, where that is not the fall and interval shown first.
std::string basis_text(const Verdict& verdict, const GroupAnalysis& analysis) {
  if (verdict.verdict_class == VerdictClass::not_applicable)
    return {};
  std::string basis;
  if (verdict.design != analysis.evidence.design)
    basis = fmt::format("{} design", to_string(*verdict.design));
  if (verdict.interval && (verdict.interval->method != analysis.evidence.headline.method ||
                           verdict.interval->level != analysis.evidence.headline.level))
    basis += fmt::format("{}{:g}% interval by {}", basis.empty() ? "" : ", ",
                         100 * verdict.interval->level, title(verdict.interval->method));
  return basis.empty() ? basis : fmt::format(" ({})", basis);
}

} // namespace

std::string verdict_words(const GroupAnalysis& analysis) {
  constexpr std::size_t longest = 34;
  const VerdictClass verdict = analysis.judgement.standing.verdict_class;
  const std::vector<std::string> surviving = worms_that(survives, analysis.judgement.worms);
  const std::vector<std::string> doubtful = worms_that(may_survive, analysis.judgement.worms);
  const auto named_or_counted = [](std::string_view form, const std::vector<std::string>& worms) {
    const std::string named = fmt::format(fmt::runtime(form), in_words(worms));
    return character_count(named) <= longest
               ? named
               : fmt::format(fmt::runtime(form),
                             fmt::format("{} worm{}", worms.size(), plural(worms.size())));
  };
  std::string text(to_string(verdict));
  const std::vector<Bar>& bars = analysis.judgement.standing.bars;
  if (!bars.empty() && bars.front().code == BarCode::surviving_worm)
    text += named_or_counted(": {}", surviving);
  else if (verdict == VerdictClass::susceptible && !doubtful.empty())
    text += named_or_counted(", {} in doubt", doubtful);
  return text;
}

std::string interval_text(const Interval& interval) {
  return fmt::format("{:g}% interval {} to {} ({})", 100 * interval.level, percent(*interval.lower),
                     percent_of_limit(*interval.upper), title(interval.method));
}

std::string fall_text(const GroupAnalysis& analysis) {
  if (!analysis.evidence.reduction)
    return "not available";
  const bool fell = *analysis.evidence.reduction >= 0;
  const std::string text = fell ? percent(*analysis.evidence.reduction) : rise_text(analysis);
  if (!analysis.evidence.headline.usable())
    return text + "; no interval";
  return text + (fell ? ", " : "; fall, ") + interval_text(analysis.evidence.headline);
}

std::string mean_text(const std::optional<double>& epg) {
  return epg ? fmt::format("{:.{}f}", *epg, *epg < 10 ? 1 : 0) : "not available";
}

std::string counts_text(const GroupAnalysis& analysis) {
  const std::string after = sample_text(analysis.evidence.after, "after");
  if (!pairs_animals(*analysis.evidence.design))
    return fmt::format(
        "mean EPG {} in {}, {} in {}",
        sample_text(*analysis.evidence.control,
                    analysis.evidence.design == Design::baseline ? "before" : "after"),
        sampled_in_words(*analysis.evidence.control, "control "), after,
        sampled_in_words(analysis.evidence.after, "treated "));
  return fmt::format("mean EPG {}, {}; {}", sample_text(analysis.evidence.before, "before"), after,
                     sampled_in_words(analysis.evidence.after));
}

std::string verdict_text(const Verdict& verdict, const GroupAnalysis& analysis) {
  return fmt::format("{} by {}: {}{}", to_string(verdict.verdict_class), verdict.criteria_title,
                     verdict.reason, basis_text(verdict, analysis));
}

std::string verdict_and_reason(const Verdict& verdict, const GroupAnalysis& analysis) {
  return fmt::format("{}: {}{}", to_string(verdict.verdict_class), verdict.reason,
                     basis_text(verdict, analysis));
}

std::string bar_codes(const Standing& standing) {
  std::vector<std::string_view> codes;
  for (const Bar& bar : standing.bars)
    codes.push_back(to_string(bar.code));
  return fmt::format("{}", fmt::join(codes, "+"));
}

std::string first_verdict_text(const GroupAnalysis& analysis) {
  const Standing& standing = analysis.judgement.standing;
  const std::string text = verdict_text(analysis.judgement.first_verdict(), analysis);
  // A good class is not to be read where none is given.
  if (standing.sign == DrenchSign::cannot_tell &&
      standing.by_counts_alone == VerdictClass::susceptible)
    return fmt::format("none; by the counts alone, which prove nothing here, it would be {}", text);
  if (!standing.bars.empty())
    return "by the counts alone " + text;
  return standing.provided.empty() ? text : fmt::format("if {}: {}", standing.provided, text);
}

std::string other_verdicts(const std::vector<Verdict>& verdicts) {
  std::string text;
  for (std::size_t i = 1; i < verdicts.size(); ++i)
    if (verdicts[i].verdict_class != VerdictClass::not_applicable)
      text += fmt::format("{}{} by {}", text.empty() ? "" : "; ",
                          to_string(verdicts[i].verdict_class), verdicts[i].criteria_title);
  return text;
}

std::string chance_text(const GroupAnalysis& analysis) {
  const EfficacyProbabilities& probabilities = *analysis.judgement.probabilities;
  // Below a half a chance is the most that any witness gives, and above it the least.
  const auto farms = [](double probability) {
    const double count = 100 * probability;
    if (count <= 0.5) // {:.0f} would make none of it
      return std::string("fewer than 1");
    if (count >= 99.5)
      return std::string("more than 99");
    return count == 50 ? "perhaps more than half, perhaps fewer (the three ways differ),"
                       : fmt::format("{} about {:.0f}", count < 50 ? "up to" : "at least", count);
  };
  const Verdict& verdict = analysis.judgement.own_fall ? analysis.judgement.own_fall->verdict
                                                       : analysis.judgement.first_verdict();
  return fmt::format("of 100 farms with counts like these{}, {} would have a true efficacy below "
                     "{:g}%, and {} below {:g}%, by the most doubtful of three ways to reckon",
                     analysis.judgement.own_fall ? ", the season taken out" : "",
                     farms(probabilities.below_expected), 100 * *verdict.expected,
                     farms(probabilities.below_lower), 100 * *verdict.lower) +
         beside_the_verdict(verdict, probabilities);
}

std::string season_text(const GroupAnalysis& analysis) {
  const std::vector<Bar>& bars = analysis.judgement.standing.bars;
  if (!analysis.judgement.own_fall ||
      std::ranges::find(bars, BarCode::control, &Bar::code) != bars.end())
    return {};
  const OwnFall& own = *analysis.judgement.own_fall;
  const std::string untreated =
      own.control_fall
          ? fmt::format("untreated counts {} by {}", *own.control_fall < 0 ? "rose" : "fell",
                        percent(std::abs(*own.control_fall)))
          : "untreated animals were counted too";
  const Verdict& verdict = own.verdict;
  std::string text = fmt::format("{} meanwhile; allowing for what that tells of the season, the "
                                 "drench's own fall is {}",
                                 untreated, percent_or_missing(verdict.reduction));
  if (verdict.interval && verdict.interval->usable())
    text +=
        fmt::format(" ({:g}% interval {} to {})", 100 * verdict.interval->level,
                    percent(*verdict.interval->lower), percent_of_limit(*verdict.interval->upper));
  return text;
}

std::string larger_trials_text(const GroupAnalysis& analysis) {
  const std::vector<LargerTrialOutcome>& outcomes = analysis.judgement.larger_trials;
  std::string text = "had this trial been larger, the chance of a clear class, good or poor, would "
                     "have been:";
  bool animals = false;
  const std::string more =
      fmt::format(" {}s{}", sampled_unit(analysis.evidence.after),
                  analysis.evidence.design == Design::paired ? "" : " in each group");
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    const LargerTrialOutcome& outcome = outcomes[i];
    const std::string percent_clear = fmt::format("{:.0f}%", 100 * outcome.clear);
    if (outcome.extension.more_animals == 0)
      text += fmt::format("{} {:g} times the volume counted {}", i == 0 ? "" : ",",
                          outcome.extension.volume, percent_clear);
    else
      text += fmt::format("{} {} more{} {}", animals ? "," : ";", outcome.extension.more_animals,
                          animals ? "" : more, percent_clear);
    animals = outcome.extension.more_animals > 0;
  }
  return text + fmt::format(" ({} simulations each)", outcomes.front().simulations);
}

std::string disagreement_text(const MethodDisagreement& disagreement) {
  std::vector<std::string_view> narrower;
  for (const Method method : disagreement.much_narrower)
    narrower.push_back(title(method));
  std::string text;
  if (disagreement.bootstrap_reaches_further)
    text = "The posterior takes one efficacy for all animals; the bootstrap reaches further where "
           "animals fell differently, and the guarded interval follows it there. ";
  if (!narrower.empty())
    text += fmt::format("Much narrower than the posterior: {}. A pooled count knows only the luck "
                        "of counting, and a bootstrap or log ratio cannot see what few eggs after "
                        "treatment leave open.",
                        fmt::join(narrower, "; "));
  return text;
}

std::string found_text(const WormFound& found) {
  if (found.larvae && found.larvae->total > 0)
    return larvae_as_cell(*found.larvae);
  return found.eggs ? fmt::format("{} egg{}", *found.eggs, plural(*found.eggs)) : "-";
}

std::vector<const Bar*> bars_of_worm_alone(const WormAnalysis& worm,
                                           const GroupAnalysis& analysis) {
  const std::vector<Bar>& of_group = analysis.judgement.standing.bars;
  std::vector<const Bar*> bars;
  for (const Bar& bar : worm.judgement.standing.bars)
    if (std::ranges::find(of_group, bar.text, &Bar::text) == of_group.end())
      bars.push_back(&bar);
  return bars;
}

std::string judged_by_others(const GroupAnalysis& analysis) {
  const std::string& shown = analysis.judgement.first_verdict().criteria;
  std::vector<std::string> titles;
  for (const WormAnalysis& worm : analysis.judgement.worms) {
    const Verdict& verdict = verdict_of(worm);
    if (verdict.verdict_class != VerdictClass::not_applicable && verdict.criteria != shown &&
        std::ranges::find(titles, verdict.criteria_title) == titles.end())
      titles.push_back(verdict.criteria_title);
  }
  return titles.empty()
             ? ""
             : fmt::format(" Worms are judged by {}: {} cannot judge them all.", in_words(titles),
                           analysis.judgement.first_verdict().criteria_title);
}

std::string spread_text(const SampleSummary& sample) {
  if (!sample.factor || sample.animals == 0)
    return sample.animals == 0 ? "not sampled" : "several factors, so eggs seen do not compare";
  std::string text =
      fmt::format("{}, {} without eggs; eggs seen: mean {}", sampled_in_words(sample),
                  sample.animals_without_eggs, number(sample.spread.mean));
  if (sample.spread.variance)
    text += fmt::format(", variance {}", number(*sample.spread.variance));
  switch (sample.spread.aggregation) {
  case Aggregation::clumped:
    return text + fmt::format(", k {}{}", number(*sample.spread.k),
                              is_pooled(sample) ? " of samples, not of animals" : "");
  case Aggregation::not_clumped:
    return text + ", no clumping to be seen (k without limit)";
  case Aggregation::all_zero:
  case Aggregation::too_few_animals:
    break;
  }
  return text + ", k not to be had";
}

std::string group_description(const Group& group) {
  std::string what;
  for (const std::string& word :
       {lower_case(group.drench) == lower_case(group.name) ? std::string() : group.drench,
        to_string(group.classes), group.host, group.worm})
    if (!word.empty())
      what += (what.empty() ? "" : ", ") + word;
  return what;
}

std::string drug_class_letters(const TrialAnalysis& trial) {
  std::string text;
  for (const DrugClass drug_class : all_drug_classes)
    if (std::ranges::any_of(trial.groups, [&](const GroupAnalysis& group) {
          return std::ranges::find(group.evidence.group.classes, drug_class) !=
                 group.evidence.group.classes.end();
        }))
      text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", to_string(drug_class),
                          drug_class_in_words(drug_class));
  return text.empty() ? text : text + '.';
}

std::string worms_note(const GroupAnalysis& analysis) {
  const std::vector<WormAnalysis>& worms = analysis.judgement.worms;
  const bool cultured = std::ranges::any_of(worms, [](const WormAnalysis& worm) {
    return worm.source == WormSource::larval_culture &&
           (worm.evidence.reduction || worm.evidence.headline.has_one_limit());
  });
  std::string note = cultured ? "Larvae of this worm, of all told apart in each culture. The falls "
                                "hold if all kinds hatch alike on both days."
                              : "";
  const auto told = std::ranges::find_if(
      worms, [](const WormAnalysis& worm) { return worm.evidence.larvae.has_value(); });
  if (cultured && told != worms.end())
    for (const std::string& sentence :
         {stand_in_words(*told->evidence.larvae),
          cultures_in_words(*told->evidence.larvae, analysis.evidence.group.culture_before)})
      if (!sentence.empty())
        note += ' ' + sentence;
  if (const auto kinds = kinds_told_apart(analysis.evidence.group); !kinds.empty())
    note += fmt::format("{}Eggs of {} were counted apart; fall and verdict above are of all other "
                        "worms.",
                        note.empty() ? "" : " ", listed(kinds));
  note += judged_by_others(analysis);
  return note;
}

std::string control_text(const ControlAnalysis& control) {
  std::string text =
      fmt::format("mean EPG {} before, {} after; {} {}{}", mean_text(control.before.mean_epg),
                  mean_text(control.after.mean_epg), control.group.animals.size(),
                  sampled_unit(is_pooled(control.before) ? control.before : control.after),
                  control.group.animals.size() == 1 ? "" : "s");
  if (control.reduction)
    text += *control.reduction >= 0
                ? fmt::format("; a fall of {} without treatment in the {} sampled twice",
                              percent(*control.reduction), control.sampled_twice)
                : fmt::format("; a rise of {} without treatment in the {} sampled twice",
                              percent_beside(-*control.reduction, 0), control.sampled_twice);
  return text;
}

std::vector<std::string> titles_from_memory(const TrialAnalysis& trial) {
  std::vector<std::string> titles;
  for (const GroupAnalysis& group : trial.groups)
    for (const Verdict& verdict : group.judgement.verdicts)
      if (verdict.citation.provenance == Provenance::memory &&
          verdict.verdict_class != VerdictClass::not_applicable &&
          std::ranges::find(titles, verdict.criteria_title) == titles.end())
        titles.push_back(verdict.criteria_title);
  return titles;
}

} // namespace eggfall
