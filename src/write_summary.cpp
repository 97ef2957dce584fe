#include "eggfall/write_summary.hpp"

#include "caveat_words.hpp"
#include "eggfall/advice.hpp"
#include "eggfall/percent.hpp"
#include "eggfall/text.hpp"
#include "eggfall/worms.hpp"
#include "eggfall/write_cut_offs.hpp"
#include "eggfall/write_field_table.hpp"
#include "eggfall/write_ranking.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr std::size_t width = 80;
constexpr std::size_t label_width = 12;  ///< With its indent; text starts after it.
constexpr std::size_t shown_caveats = 2; ///< Or as many as are serious.

std::string upper_case(std::string_view text) {
  std::string upper(text);
  for (char& c : upper)
    if (c >= 'a' && c <= 'z')
      c = static_cast<char>(c - 'a' + 'A');
  return upper;
}

/// "  Label     text, wrapped and hanging under its first line"
std::string entry(std::string_view label, std::string_view text, std::string_view bullet = "") {
  std::string out;
  for (const std::string& line : wrapped(text, width - label_width - bullet.size())) {
    const bool first = out.empty();
    out += fmt::format("{:<{}}{:<{}}{}\n", first ? fmt::format("  {}", label) : "", label_width,
                       first ? bullet : "", bullet.size(), line);
  }
  return out;
}

/// "SUSCEPTIBLE", "SUSCEPTIBLE BUT FOR HAEMONCHUS", or "SUSCEPTIBLE, HAEMONCHUS IN DOUBT".
std::string verdict_heading(const GroupAnalysis& analysis) {
  constexpr std::size_t longest = 34;
  const VerdictClass verdict = analysis.verdicts.front().verdict_class;
  const std::vector<std::string> surviving = worms_that(survives, analysis.worms);
  const std::vector<std::string> doubtful = worms_that(may_survive, analysis.worms);
  const auto named_or_counted = [](std::string_view form, const std::vector<std::string>& worms) {
    const std::string named = fmt::format(fmt::runtime(form), in_words(worms));
    return character_count(named) <= longest
               ? named
               : fmt::format(fmt::runtime(form),
                             fmt::format("{} worm{}", worms.size(), plural(worms.size())));
  };
  std::string text(to_string(verdict));
  if (verdict == VerdictClass::susceptible && !surviving.empty())
    text += named_or_counted(" but for {}", surviving);
  else if (verdict == VerdictClass::susceptible && !doubtful.empty())
    text += named_or_counted(", {} in doubt", doubtful);
  return upper_case(text);
}

std::string heading(const GroupAnalysis& analysis) {
  const Group& group = analysis.group;
  std::string what;
  for (const std::string& word :
       {lower_case(group.drench) == lower_case(group.name) ? std::string() : group.drench,
        to_string(group.classes), group.host, group.worm})
    if (!word.empty())
      what += (what.empty() ? "" : ", ") + word;
  const std::string verdict = verdict_heading(analysis);
  const std::string name = group.name + (what.empty() ? "" : fmt::format(" ({})", what));
  const std::size_t space = width - character_count(verdict) - 2;
  std::string out;
  for (const std::string& line : wrapped(name, space))
    // The verdict stands at the right of the first line.
    out += out.empty()
               ? line + std::string(width - character_count(line) - character_count(verdict), ' ') +
                     verdict + '\n'
               : "  " + line + '\n';
  return out;
}

std::string interval_text(const Interval& interval) {
  return fmt::format("{:g}% interval {} to {} ({})", 100 * interval.level, percent(*interval.lower),
                     percent(*interval.upper), title(interval.method));
}

/// What a ratio above 1 means in each design.
std::string rise_text(const GroupAnalysis& analysis) {
  const std::string by = percent_beside(-*analysis.reduction, 0);
  switch (*analysis.design) {
  case Design::paired:
    return fmt::format("none: counts rose by {}", by);
  case Design::two_group:
  case Design::baseline:
    return fmt::format("none: counts were {} above the control's", by);
  case Design::controlled:
    break;
  }
  return fmt::format("none: against the control's, counts rose by {}", by);
}

std::string fall_text(const GroupAnalysis& analysis) {
  if (!analysis.reduction)
    return "not available";
  const bool fell = *analysis.reduction >= 0;
  const std::string text = fell ? percent(*analysis.reduction) : rise_text(analysis);
  if (!analysis.headline.usable())
    return text + "; no interval";
  return text + (fell ? ", " : "; fall, ") + interval_text(analysis.headline);
}

std::string mean_text(const std::optional<double>& epg) {
  return epg ? fmt::format("{:.{}f}", *epg, *epg < 10 ? 1 : 0) : "not available";
}

/// "812 before (27 eggs seen)"
std::string sample_text(const SampleSummary& sample, std::string_view when) {
  return fmt::format("{} {} ({} egg{} seen)", mean_text(sample.mean_epg), when, sample.eggs,
                     sample.eggs == 1 ? "" : "s");
}

std::string counts_text(const GroupAnalysis& analysis) {
  const std::string after = sample_text(analysis.after, "after");
  if (!pairs_animals(*analysis.design))
    return fmt::format(
        "mean EPG {} in {}, {} in {}",
        sample_text(*analysis.control, analysis.design == Design::baseline ? "before" : "after"),
        sampled_in_words(*analysis.control, "control "), after,
        sampled_in_words(analysis.after, "treated "));
  return fmt::format("mean EPG {}, {}; {}", sample_text(analysis.before, "before"), after,
                     sampled_in_words(analysis.after));
}

/// What a verdict rests on, where that is not the fall and interval shown first.
std::string basis_text(const Verdict& verdict, const GroupAnalysis& analysis) {
  if (verdict.verdict_class == VerdictClass::not_applicable)
    return {};
  std::string basis;
  if (verdict.design != analysis.design)
    basis = fmt::format("{} design", to_string(*verdict.design));
  if (verdict.interval && (verdict.interval->method != analysis.headline.method ||
                           verdict.interval->level != analysis.headline.level))
    basis += fmt::format("{}{:g}% interval by {}", basis.empty() ? "" : ", ",
                         100 * verdict.interval->level, title(verdict.interval->method));
  return basis.empty() ? basis : fmt::format(" ({})", basis);
}

std::string verdict_text(const Verdict& verdict, const GroupAnalysis& analysis) {
  return fmt::format("{} by {}: {}{}", to_string(verdict.verdict_class), verdict.criteria_title,
                     verdict.reason, basis_text(verdict, analysis));
}

std::string other_verdicts(const std::vector<Verdict>& verdicts) {
  std::string text;
  for (std::size_t i = 1; i < verdicts.size(); ++i)
    if (verdicts[i].verdict_class != VerdictClass::not_applicable)
      text += fmt::format("{}{} by {}", text.empty() ? "" : "; ",
                          to_string(verdicts[i].verdict_class), verdicts[i].criteria_title);
  return text;
}

/// "... of 100 farms with counts like these about 83 would have a true efficacy below 95%, ..."
std::string chance_text(const GroupAnalysis& analysis) {
  const EfficacyProbabilities& of = *analysis.probabilities;
  const auto farms = [](double probability) {
    const double count = 100 * probability;
    if (count < 0.5)
      return std::string("fewer than 1");
    return count > 99.5 ? "more than 99" : fmt::format("about {:.0f}", count);
  };
  const Verdict& verdict = analysis.verdicts.front();
  return fmt::format("if the model and its prior hold, of 100 farms with counts like these {} "
                     "would have a true efficacy below {:g}%, and {} below {:g}%",
                     farms(of.below_expected), 100 * *verdict.expected, farms(of.below_lower),
                     100 * *verdict.lower);
}

/// "... 2 times the volume counted 35%, 4 times the volume counted 45%; 5 more animals 30%, ..."
std::string next_steps_text(const GroupAnalysis& analysis) {
  const std::vector<NextStepOutcome>& outcomes = analysis.next_steps;
  std::string text = "had this trial been larger, the chance of a clear class, good or poor, would "
                     "have been:";
  bool animals = false;
  const std::string more = fmt::format(" {}s{}", sampled_unit(analysis.after),
                                       analysis.design == Design::paired ? "" : " in each group");
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    const NextStepOutcome& outcome = outcomes[i];
    const std::string percent_clear = fmt::format("{:.0f}%", 100 * outcome.clear);
    if (outcome.step.more_animals == 0)
      text += fmt::format("{} {:g} times the volume counted {}", i == 0 ? "" : ",",
                          outcome.step.volume, percent_clear);
    else
      text += fmt::format("{} {} more{} {}", animals ? "," : ";", outcome.step.more_animals,
                          animals ? "" : more, percent_clear);
    animals = outcome.step.more_animals > 0;
  }
  return text + fmt::format(" ({} simulations each)", outcomes.front().simulations);
}

/// Why the intervals differ, where they do.
std::string disagreement_text(const GroupAnalysis& analysis) {
  const auto posterior =
      std::ranges::find(analysis.intervals, posterior_method(*analysis.design), &Interval::method);
  if (posterior == analysis.intervals.end() || !posterior->usable())
    return {};
  const bool bootstrap_reaches_further =
      std::ranges::any_of(analysis.intervals, [&](const Interval& interval) {
        return interval.method == Method::bootstrap_bca && interval.usable() &&
               (*interval.lower < *posterior->lower || *interval.upper > *posterior->upper);
      });
  std::string narrower;
  const double posterior_width = *posterior->upper - *posterior->lower;
  constexpr double much = 0.67;
  for (const Interval& interval : analysis.intervals)
    if (interval.usable() && *interval.upper - *interval.lower < much * posterior_width)
      narrower += fmt::format("{}{}", narrower.empty() ? "" : "; ", title(interval.method));
  std::string text;
  if (bootstrap_reaches_further)
    text = "The posterior takes one efficacy for all animals; the bootstrap reaches further where "
           "animals fell differently, and the guarded interval follows it there. ";
  if (!narrower.empty())
    text += fmt::format("Much narrower than the posterior: {}. A pooled count knows only the luck "
                        "of counting, and a bootstrap or log ratio cannot see what few eggs after "
                        "treatment leave open.",
                        narrower);
  return text;
}

/// "12 of 100", or "31" eggs, or "-".
std::string found_text(const std::optional<WormShare>& larvae,
                       const std::optional<std::uint64_t>& eggs) {
  if (larvae && larvae->total > 0)
    return fmt::format("{}/{}", larvae->larvae, larvae->total);
  return eggs ? fmt::format("{} egg{}", *eggs, *eggs == 1 ? "" : "s") : "-";
}

/// As percent(), in fewer letters: ">99.99%".
std::string short_percent(double proportion) {
  const std::string text = percent(proportion);
  constexpr std::string_view over = "over ";
  return text.starts_with(over) ? ">" + text.substr(over.size()) : text;
}

std::string worm_row(std::string_view worm, std::string_view before, std::string_view after,
                     std::string_view fall, std::string_view interval, std::string_view verdict) {
  return named_row(
      worm, 17, fmt::format("{:>9}{:>9}{:>8}  {:<20} {}", before, after, fall, interval, verdict));
}

/// By which criteria the worms are judged, if not by those of the group's own verdict.
std::string judged_by_others(const GroupAnalysis& analysis) {
  const std::string& shown = analysis.verdicts.front().criteria;
  std::vector<std::string> titles;
  for (const WormAnalysis& worm : analysis.worms) {
    const Verdict& verdict = verdict_of(worm);
    if (verdict.verdict_class != VerdictClass::not_applicable && verdict.criteria != shown &&
        std::ranges::find(titles, verdict.criteria_title) == titles.end())
      titles.push_back(verdict.criteria_title);
  }
  return titles.empty() ? ""
                        : fmt::format(" Worms are judged by {}: {} cannot judge them all.",
                                      in_words(titles), analysis.verdicts.front().criteria_title);
}

/// What became of each worm, and what to beware of.
std::string worms_table(const GroupAnalysis& analysis) {
  const std::vector<WormAnalysis>& worms = analysis.worms;
  if (worms.empty())
    return {};
  const bool by_control = !pairs_animals(worms.front().design);
  std::string out =
      worm_row("Worms", by_control ? "control" : "before", "after", "fall",
               fmt::format("{:g}% interval", 100 * worms.front().headline.level), "verdict");
  std::string beware;
  for (const WormAnalysis& worm : worms) {
    const VerdictClass verdict = verdict_of(worm).verdict_class;
    out += worm_row(worm.worm, found_text(worm.larvae_before, worm.eggs_before),
                    found_text(worm.larvae_after, worm.eggs_after),
                    worm.reduction ? short_percent(*worm.reduction) : "-",
                    worm.headline.usable()
                        ? fmt::format("{} to {}", short_percent(*worm.headline.lower),
                                      short_percent(*worm.headline.upper))
                        : "none",
                    verdict == VerdictClass::not_applicable ? "none" : to_string(verdict));
    for (const Caveat& caveat : worm.caveats) {
      const std::string text = entry("",
                                     worm.source == WormSource::eggs_told_apart
                                         ? fmt::format("{}: {}", worm.worm, caveat.text)
                                         : caveat.text,
                                     "- ");
      const bool told = beware.find(text) != std::string::npos; // alike for all worms
      if (caveat.severity == Severity::serious && !told)
        beware += text;
    }
  }
  const bool cultured = std::ranges::any_of(worms, [](const WormAnalysis& worm) {
    return worm.source == WormSource::larval_culture && worm.reduction;
  });
  std::string note = cultured ? "Larvae of this worm, of all told apart in each culture. The falls "
                                "hold if all kinds hatch alike on both days."
                              : "";
  if (const auto kinds = kinds_told_apart(analysis.group); !kinds.empty())
    note += fmt::format("{}Eggs of {} were counted apart; fall and verdict above are of all other "
                        "worms.",
                        note.empty() ? "" : " ", listed(kinds));
  note += judged_by_others(analysis);
  if (!note.empty())
    out += entry("", note);
  return out + beware;
}

std::string caveat_entries(const std::vector<Caveat>& caveats, Detail detail) {
  const auto serious =
      static_cast<std::size_t>(std::ranges::count(caveats, Severity::serious, &Caveat::severity));
  const std::size_t most =
      detail == Detail::full ? caveats.size() : std::max(shown_caveats, serious);
  std::string out;
  for (std::size_t i = 0; i < std::min(most, caveats.size()); ++i)
    out += entry(i == 0 ? "Beware" : "", caveats[i].text, "- ");
  if (caveats.size() > most)
    out += entry("", fmt::format("({} more with --verbose)", caveats.size() - most));
  return out;
}

std::string intervals_table(const std::vector<Interval>& intervals) {
  std::string out;
  for (const Interval& interval : intervals) {
    const std::string name = fmt::format("    {:<24}", title(interval.method));
    if (interval.usable()) {
      out += fmt::format("{}{:>9} to {:>7}   ({:g}%)\n", name, percent(*interval.lower),
                         percent(*interval.upper), 100 * interval.level);
      continue;
    }
    std::string first = name;
    for (const std::string& line : wrapped("none: " + interval.why_not, width - name.size())) {
      out += first + line + '\n';
      first.assign(name.size(), ' ');
    }
  }
  return out;
}

std::string spread_text(const SampleSummary& sample) {
  if (!sample.factor || sample.animals == 0)
    return sample.animals == 0 ? "not sampled" : "several factors, so eggs seen do not compare";
  std::string text =
      fmt::format("{}, {} without eggs; eggs seen: mean {:.3g}", sampled_in_words(sample),
                  sample.animals_without_eggs, sample.spread.mean);
  if (sample.spread.variance)
    text += fmt::format(", variance {:.3g}", *sample.spread.variance);
  switch (sample.spread.aggregation) {
  case Aggregation::clumped:
    return text + fmt::format(", k {:.3g}{}", *sample.spread.k,
                              is_pooled(sample) ? " of samples, not of animals" : "");
  case Aggregation::not_clumped:
    return text + ", no clumping to be seen (k without limit)";
  case Aggregation::all_zero:
  case Aggregation::too_few_animals:
    break;
  }
  return text + ", k not to be had";
}

std::string animal_table(const std::vector<AnimalResult>& animals) {
  std::size_t tag_width = 6;
  for (const AnimalResult& animal : animals)
    tag_width = std::clamp(character_count(animal.animal), tag_width, std::size_t{30});
  const auto eggs = [](const std::optional<Count>& count) {
    return count ? fmt::format("{}", count->eggs.value()) : std::string("-");
  };
  const auto epg = [](const std::optional<Count>& count) {
    return count ? fmt::format("{:g}", count->epg()) : std::string("-");
  };
  std::string out = fmt::format("    {:<{}}  {:>8} {:>8}  {:>8} {:>8}  {:>8}\n", "animal",
                                tag_width, "eggs", "eggs", "EPG", "EPG", "fall");
  out += fmt::format("    {:<{}}  {:>8} {:>8}  {:>8} {:>8}\n", "", tag_width, "before", "after",
                     "before", "after");
  for (const AnimalResult& animal : animals)
    out += fmt::format("    {:<{}}  {:>8} {:>8}  {:>8} {:>8}  {:>8}\n", animal.animal, tag_width,
                       eggs(animal.before), eggs(animal.after), epg(animal.before),
                       epg(animal.after), animal.reduction ? percent(*animal.reduction) : "-");
  return out;
}

std::string full_block(const GroupAnalysis& analysis) {
  std::string out;
  if (analysis.design)
    out += fmt::format("\n  Every interval, {} design\n", to_string(*analysis.design)) +
           intervals_table(analysis.intervals) + entry("", disagreement_text(analysis));
  for (const DesignEstimate& other : analysis.other_designs)
    out += fmt::format("\n  The {} design instead: fall {}\n", to_string(other.design),
                       percent_or_missing(other.reduction)) +
           intervals_table(other.intervals);
  out += "\n  Every criterion\n";
  for (const Verdict& verdict : analysis.verdicts) {
    out += entry("",
                 fmt::format("{}. Source: {} ({}).", verdict_text(verdict, analysis),
                             verdict.citation.source, to_string(verdict.citation.provenance)),
                 "- ");
  }
  out += "\n  Spread\n" + entry("  before", spread_text(analysis.before)) +
         entry("  after", spread_text(analysis.after));
  if (analysis.control)
    out += entry("  control", spread_text(*analysis.control));
  out += "\n  Each animal\n" + animal_table(analysis.animal_results);
  if (const std::string table = field_table(analysis.doses, analysis.days); !table.empty())
    out += "\n  Doses and days\n" + table;
  return out;
}

std::string group_block(const GroupAnalysis& analysis, Detail detail) {
  std::string out = heading(analysis);
  out += entry("Fall", fall_text(analysis));
  if (analysis.design)
    out += entry("Counts", counts_text(analysis));
  out += entry("Verdict", verdict_text(analysis.verdicts.front(), analysis));
  if (const std::string others = other_verdicts(analysis.verdicts); !others.empty())
    out += entry("Also", others);
  out += worms_table(analysis);
  if (analysis.probabilities)
    out += entry("Chance", chance_text(analysis));
  out += caveat_entries(analysis.caveats, detail);
  out += entry("Next", next_step(analysis));
  if (!analysis.next_steps.empty())
    out += entry("Larger", next_steps_text(analysis));
  if (detail == Detail::full)
    out += full_block(analysis);
  return out;
}

std::string control_block(const ControlAnalysis& control, Detail detail) {
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
  std::string out =
      fmt::format("{} (untreated control)\n", control.group.name) + entry("Counts", text);
  if (detail == Detail::full)
    out += "\n  Each animal\n" + animal_table(control.animal_results);
  return out;
}

/// What the chances and the posterior intervals take for granted.
std::string prior_note(const TrialAnalysis& trial) {
  const bool needed = std::ranges::any_of(
      trial.groups, [](const GroupAnalysis& group) { return group.probabilities.has_value(); });
  return needed ? paragraph("Chances and posterior intervals start from a prior under which a fall "
                            "and a rise are equally likely; with few eggs it matters "
                            "(docs/methods.md).",
                            width)
                : std::string();
}

std::string provenance_note(const TrialAnalysis& trial) {
  std::vector<std::string> titles;
  for (const GroupAnalysis& group : trial.groups)
    for (const Verdict& verdict : group.verdicts)
      if (verdict.citation.provenance == Provenance::memory &&
          verdict.verdict_class != VerdictClass::not_applicable &&
          std::ranges::find(titles, verdict.criteria_title) == titles.end())
        titles.push_back(verdict.criteria_title);
  return check_note(titles);
}

} // namespace

std::string analysis_summary(const TrialAnalysis& trial, Detail detail) {
  std::string out = fmt::format("Trial {}: {} treated group{}, {}\n", trial.trial,
                                trial.groups.size(), trial.groups.size() == 1 ? "" : "s",
                                trial.control ? "one untreated control" : "no untreated control");
  out += std::string(width, '-') + '\n';
  for (const GroupAnalysis& group : trial.groups)
    out += group_block(group, detail) + '\n';
  if (trial.control)
    out += control_block(*trial.control, detail) + '\n';
  if (const std::string ranking = ranking_summary(trial, detail); !ranking.empty())
    out += ranking + '\n';
  const std::string note = prior_note(trial) + provenance_note(trial);
  if (note.empty())
    out.pop_back();
  return out + note;
}

std::string cautions() {
  return paragraph(
      "Wear gloves and wash hands when handling faeces; flotation salts irritate skin and eyes. "
      "Follow the product label for dose, route, species and withholding period, and local rules. "
      "These numbers support, and do not replace, the judgement of a veterinarian registered where "
      "the animals are.",
      width);
}

} // namespace eggfall
