#include "eggfall/report/analysis_text.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "judgement/larvae_words.hpp"
#include "report/cut_offs_text.hpp"
#include "report/field_table.hpp"
#include "report/ranking_text.hpp"
#include "report/result_words.hpp"
#include "report/visit_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr std::size_t label_width = 12;  ///< With its indent; text starts after it.
constexpr std::size_t shown_caveats = 2; ///< Or as many as may not be cut.

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
  for (const std::string& line : wrapped(text, screen_width - label_width - bullet.size())) {
    const bool first = out.empty();
    out += fmt::format("{:<{}}{:<{}}{}\n", first ? fmt::format("  {}", label) : "", label_width,
                       first ? bullet : "", bullet.size(), line);
  }
  return out;
}

/// The class in the heading, with what a class alone does not say: that it is to be taken with
/// care, to which side it leans, or that it is the table that fails and not the rule.
std::string heading_words(const GroupAnalysis& analysis) {
  const Judgement& judgement = analysis.judgement;
  const Standing& standing = judgement.standing;
  constexpr std::string_view check = "no answer: check the table";
  if (standing.verdict_class == VerdictClass::not_applicable) {
    if (!standing.bars.empty())
      return standing.bars.front().code == BarCode::units_in_doubt ? std::string(check)
                                                                   : verdict_words(analysis);
    if (!analysis.evidence.reduction && analysis.evidence.design)
      return "no answer: no eggs to begin with";
    if (!analysis.evidence.reduction || !judgement.first_verdict().missing_column.empty())
      return std::string(check);
  }
  const std::string words = verdict_words(analysis);
  if (standing.leaning)
    return words + ", looks poor";
  return standing.care && words == to_string(VerdictClass::susceptible) ? words + ", with care"
                                                                        : words;
}

std::string heading(const GroupAnalysis& analysis) {
  const Group& group = analysis.evidence.group;
  const std::string what = group_description(group);
  const std::string verdict = upper_case(heading_words(analysis));
  const std::string name = group.name + (what.empty() ? "" : fmt::format(" ({})", what));
  const std::size_t space = screen_width - character_count(verdict) - 2;
  std::string out;
  for (const std::string& line : wrapped(name, space))
    // The verdict stands at the right of the first line.
    out +=
        out.empty()
            ? fmt::format("{}{:{}}{}\n", line, "",
                          screen_width - character_count(line) - character_count(verdict), verdict)
            : fmt::format("  {}\n", line);
  return out;
}

/// A percentage in fewer letters: ">99.99%".
std::string short_percent(const std::string& text) {
  constexpr std::string_view over = "over ";
  return text.starts_with(over) ? ">" + text.substr(over.size()) : text;
}

std::string worm_row(std::string_view worm, std::string_view before, std::string_view after,
                     std::string_view fall, std::string_view interval, std::string_view verdict) {
  return named_row(
      worm, 17, fmt::format("{:>9}{:>9}{:>8}  {:<20} {}", before, after, fall, interval, verdict));
}

/// What became of each worm, and what to beware of.
std::string worms_table(const GroupAnalysis& analysis) {
  const std::vector<WormAnalysis>& worms = analysis.judgement.worms;
  if (worms.empty())
    return {};
  const bool by_control = !pairs_animals(design_of(worms.front()));
  std::string out = worm_row(
      "Worms", by_control ? "control" : "before", "after", "fall",
      fmt::format("{:g}% interval", 100 * worms.front().evidence.headline.level), "verdict");
  std::string beware;
  for (const WormAnalysis& worm : worms) {
    const VerdictClass verdict = worm.judgement.standing.verdict_class;
    out += worm_row(
        worm.worm, found_text(found_before(worm)), found_text(found_after(worm)),
        worm.evidence.reduction ? short_percent(percent(*worm.evidence.reduction)) : "-",
        worm.evidence.headline.usable()
            ? fmt::format("{} to {}", short_percent(percent(*worm.evidence.headline.lower)),
                          short_percent(percent_of_limit(*worm.evidence.headline.upper)))
        : worm.evidence.headline.has_one_limit() ? limit_in_words(worm.evidence.headline)
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
  const std::string note = worms_note(analysis);
  if (!note.empty())
    out += entry("", note);
  return out + beware;
}

/// The gravest; of a good class every one but the notes, since any of them could undermine it.
std::string caveat_entries(const std::vector<Caveat>& caveats, VerdictClass standing,
                           Verbosity verbosity) {
  const auto of = [&](Severity severity) {
    return static_cast<std::size_t>(std::ranges::count(caveats, severity, &Caveat::severity));
  };
  const std::size_t uncut =
      of(Severity::serious) +
      (standing == VerdictClass::susceptible ? of(Severity::warning) : std::size_t{0});
  const std::size_t most =
      verbosity == Verbosity::full ? caveats.size() : std::max(shown_caveats, uncut);
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
                         percent_of_limit(*interval.upper), 100 * interval.level);
      continue;
    }
    std::string first = name;
    for (const std::string& line :
         wrapped("none: " + interval.why_not, screen_width - name.size())) {
      out += first + line + '\n';
      first.assign(name.size(), ' ');
    }
  }
  return out;
}

std::string animal_table(const std::vector<AnimalResult>& animals) {
  std::size_t tag_width = 6;
  for (const AnimalResult& animal : animals)
    tag_width = std::clamp(character_count(animal.animal), tag_width, std::size_t{30});
  const auto eggs = [](const std::optional<Count>& count) {
    return count ? fmt::format("{}", count->eggs.value()) : std::string("-");
  };
  const auto epg = [](const std::optional<Count>& count) {
    return count ? plain_number(count->epg()) : std::string("-");
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
  if (analysis.evidence.design)
    out += fmt::format("\n  Every interval, {} design\n", to_string(*analysis.evidence.design)) +
           intervals_table(analysis.evidence.intervals) +
           entry("", disagreement_text(analysis.evidence.disagreement));
  for (const DesignEstimate& other : analysis.evidence.other_designs)
    out += fmt::format("\n  The {} design instead: fall {}\n", to_string(other.design),
                       percent_or_missing(other.reduction)) +
           intervals_table(other.intervals);
  out += "\n  Every criterion\n";
  for (const Verdict& verdict : analysis.judgement.verdicts) {
    out += entry("",
                 fmt::format("{}. Source: {} ({}).", verdict_text(verdict, analysis),
                             verdict.citation.source, to_string(verdict.citation.provenance)),
                 "- ");
  }
  out += "\n  Spread\n" + entry("  before", spread_text(analysis.evidence.before)) +
         entry("  after", spread_text(analysis.evidence.after));
  if (analysis.evidence.control)
    out += entry("  control", spread_text(*analysis.evidence.control));
  out += "\n  Each animal\n" + animal_table(analysis.evidence.animal_results);
  if (const std::string table = field_table(analysis.field.doses, analysis.field.days);
      !table.empty())
    out += "\n  Doses and days\n" + table;
  return out;
}

/// The visits of a group, beside the test that stands above.
std::string visits_block(const GroupAnalysis& analysis) {
  if (analysis.course.visits.empty())
    return {};
  std::string out =
      entry("Visits", fmt::format("beside the test, which is {}", judged_on_text(analysis))) +
      visits_table(analysis.course.visits);
  if (analysis.course.reappearance)
    out += entry("Eggs back",
                 fmt::format("{}", fmt::join(reappearance_sentences(*analysis.course.reappearance,
                                                                    analysis.judgement.standing),
                                             " ")));
  return out;
}

std::string group_block(const GroupAnalysis& analysis, Verbosity verbosity) {
  std::string out = heading(analysis);
  out += entry("Fall", fall_text(analysis));
  if (analysis.evidence.design)
    out += entry("Counts", counts_text(analysis));
  if (const std::string season = season_text(analysis); !season.empty())
    out += entry("Season", season);
  for (const Bar& bar : analysis.judgement.standing.bars)
    out += entry(&bar == &analysis.judgement.standing.bars.front() ? "But" : "", bar.text, "- ");
  out += entry("Verdict", first_verdict_text(analysis));
  if (const std::string others = other_verdicts(analysis.judgement.verdicts); !others.empty())
    out += entry("Also",
                 (analysis.judgement.standing.bars.empty() ? "" : "by the counts alone ") + others);
  out += worms_table(analysis);
  if (analysis.judgement.probabilities)
    out += entry("Chance", chance_text(analysis));
  out += caveat_entries(analysis.caveats, analysis.judgement.standing.verdict_class, verbosity);
  out += entry("Next", analysis.advice.next_step);
  if (!analysis.judgement.larger_trials.empty())
    out += entry("Larger", larger_trials_text(analysis));
  out += visits_block(analysis);
  if (verbosity == Verbosity::full)
    out += full_block(analysis);
  return out;
}

std::string control_block(const ControlAnalysis& control, Verbosity verbosity) {
  std::string out = fmt::format("{} (untreated control)\n", control.group.name) +
                    entry("Counts", control_text(control));
  if (!control.visits.empty())
    out += entry("Visits", "of untreated animals") + visits_table(control.visits);
  if (verbosity == Verbosity::full)
    out += "\n  Each animal\n" + animal_table(control.animal_results);
  return out;
}

/// What the chances and the posterior intervals take for granted.
std::string prior_note(const TrialAnalysis& trial) {
  const bool needed = std::ranges::any_of(trial.groups, [](const GroupAnalysis& group) {
    return group.judgement.probabilities.has_value();
  });
  return needed ? paragraph("Chances and posterior intervals start from a prior under which a fall "
                            "and a rise are equally likely; with few eggs it matters "
                            "(docs/methods.md).",
                            screen_width)
                : std::string();
}

} // namespace

std::string analysis_summary(const TrialAnalysis& trial, Verbosity verbosity) {
  std::string out = fmt::format("Trial {}: {} treated group{}, {}\n", trial.trial,
                                trial.groups.size(), trial.groups.size() == 1 ? "" : "s",
                                trial.control ? "one untreated control" : "no untreated control");
  out += std::string(screen_width, '-') + '\n';
  for (const GroupAnalysis& group : trial.groups)
    out += group_block(group, verbosity) + '\n';
  if (trial.control)
    out += control_block(*trial.control, verbosity) + '\n';
  if (const std::string ranking = ranking_summary(trial, verbosity); !ranking.empty())
    out += ranking + '\n';
  if (verbosity == Verbosity::full && !trial.reading.empty()) {
    out += "How the table was read\n";
    for (const std::string& line : trial.reading)
      out += entry("", line, "- ");
    out += '\n';
  }
  const std::string note = paragraph(class_letters(trial), screen_width) + prior_note(trial) +
                           check_note(titles_from_memory(trial));
  if (note.empty())
    out.pop_back();
  return out + note;
}

} // namespace eggfall
