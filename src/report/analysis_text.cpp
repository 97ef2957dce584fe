#include "eggfall/report/analysis_text.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/terminal_text.hpp"
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

constexpr std::size_t shown_caveats = 2; ///< Or as many as may not be cut.

std::string upper_case(std::string_view text) {
  std::string upper(text);
  for (char& c : upper)
    if (c >= 'a' && c <= 'z')
      c = static_cast<char>(c - 'a' + 'A');
  return upper;
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

std::string group_heading(const GroupAnalysis& analysis) {
  const Group& group = analysis.evidence.group;
  const std::string what = group_description(group);
  const std::string verdict = upper_case(heading_words(analysis));
  const std::string name = group.name + (what.empty() ? "" : fmt::format(" ({})", what));
  const std::size_t space = terminal_width - character_count(verdict) - 2;
  std::string out;
  for (const std::string& line : wrapped(name, space))
    // The verdict stands at the right of the first line.
    out += out.empty()
               ? fmt::format("{}{:{}}{}\n", line, "",
                             terminal_width - character_count(line) - character_count(verdict),
                             verdict)
               : fmt::format("  {}\n", line);
  return out;
}

/// A percentage in fewer letters: ">99.99%".
std::string short_percent(const std::string& text) {
  constexpr std::string_view over = "over ";
  return text.starts_with(over) ? ">" + text.substr(over.size()) : text;
}

/// What became of each worm, and what to beware of.
std::string worms_table(const GroupAnalysis& analysis, Verbosity verbosity) {
  const std::vector<WormAnalysis>& worms = analysis.judgement.worms;
  if (worms.empty())
    return {};
  const bool by_control = !pairs_animals(design_of(worms.front()));
  const TerminalTable table{
      2, 17, {{9}, {9}, {8}, {20, Side::left, 2}, {.width = 0, .side = Side::left, .gap = 1}}};
  std::string out = table.row(
      "Worms",
      {by_control ? "control" : "before", "after", "fall",
       fmt::format("{:g}% interval", 100 * worms.front().evidence.headline.level), "verdict"});
  std::string beware;
  for (const WormAnalysis& worm : worms) {
    const VerdictClass verdict = worm.judgement.standing.verdict_class;
    const Interval& interval = worm.evidence.headline;
    out += table.row(
        worm.worm,
        {found_text(found_before(worm)), found_text(found_after(worm)),
         worm.evidence.reduction ? short_percent(percent(*worm.evidence.reduction)) : "-",
         interval.usable() ? fmt::format("{} to {}", short_percent(percent(*interval.lower)),
                                         short_percent(percent_of_limit(*interval.upper)))
         : interval.has_one_limit() ? limit_in_words(interval)
                                    : "none",
         std::string(verdict == VerdictClass::not_applicable ? "none" : to_string(verdict))});
    for (const Bar* const bar : bars_of_worm_alone(worm, analysis))
      out += entry("", fmt::format("{}: {}", worm.worm, bar->text), "- ");
    for (const Caveat& caveat : worm.caveats) {
      const std::string text = entry("",
                                     worm.source == WormSource::eggs_told_apart
                                         ? fmt::format("{}: {}", worm.worm, caveat.text)
                                         : caveat.text,
                                     "- ");
      const bool told = beware.find(text) != std::string::npos; // alike for all worms
      if ((caveat.severity != Severity::note || verbosity == Verbosity::full) && !told)
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
  const auto number_of = [&](Severity severity) {
    return static_cast<std::size_t>(std::ranges::count(caveats, severity, &Caveat::severity));
  };
  const std::size_t uncut =
      number_of(Severity::serious) +
      (standing == VerdictClass::susceptible ? number_of(Severity::warning) : std::size_t{0});
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
  const TerminalTable table{4, 24, {{9}, {4, Side::left}, {7}, {}}};
  std::string out;
  for (const Interval& interval : intervals)
    out += interval.usable()
               ? table.row(title(interval.method),
                           {percent(*interval.lower), " to ", percent_of_limit(*interval.upper),
                            fmt::format("   ({:g}%)", 100 * interval.level)})
               : hanging(fmt::format("    {:<24}", title(interval.method)),
                         "none: " + interval.why_not);
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
  constexpr TerminalColumn after_a_gap{8, Side::right, 2};
  constexpr TerminalColumn beside{8, Side::right, 1};
  const TerminalTable table{4, tag_width, {after_a_gap, beside, after_a_gap, beside, after_a_gap}};
  std::string out = table.row("animal", {"eggs", "eggs", "EPG", "EPG", "fall"}) +
                    table.row("", {"before", "after", "before", "after"});
  for (const AnimalResult& animal : animals)
    out += table.row(animal.animal,
                     {eggs(animal.before), eggs(animal.after), epg(animal.before),
                      epg(animal.after), animal.reduction ? percent(*animal.reduction) : "-"});
  return out;
}

std::string full_block(const GroupAnalysis& analysis) {
  std::string out;
  if (analysis.evidence.design)
    out += heading(fmt::format("Every interval, {} design", to_string(*analysis.evidence.design)),
                   "  ") +
           intervals_table(analysis.evidence.intervals) +
           entry("", disagreement_text(analysis.evidence.disagreement));
  for (const DesignEstimate& other : analysis.evidence.other_designs)
    out += heading(fmt::format("The {} design instead: fall {}", to_string(other.design),
                               percent_or_missing(other.reduction)),
                   "  ") +
           intervals_table(other.intervals);
  out += heading("Every criterion", "  ");
  for (const Verdict& verdict : analysis.judgement.verdicts) {
    out += entry("",
                 fmt::format("{}. Source: {} ({}).", verdict_text(verdict, analysis),
                             verdict.citation.source, to_string(verdict.citation.provenance)),
                 "- ");
  }
  out += heading("Spread", "  ") + entry("  before", spread_text(analysis.evidence.before)) +
         entry("  after", spread_text(analysis.evidence.after));
  if (analysis.evidence.control)
    out += entry("  control", spread_text(*analysis.evidence.control));
  out += heading("Each animal", "  ") + animal_table(analysis.evidence.animal_results);
  if (const std::string table = field_table(analysis.field.doses, analysis.field.days);
      !table.empty())
    out += heading("Doses and days", "  ") + table;
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

std::string group_block(const GroupAnalysis& analysis, Verbosity verbosity,
                        const SettingNames& names) {
  std::string out = group_heading(analysis);
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
  out += worms_table(analysis, verbosity);
  if (analysis.judgement.probabilities)
    out += entry("Chance", chance_text(analysis));
  out += caveat_entries(analysis.caveats, analysis.judgement.standing.verdict_class, verbosity);
  out += entry("Next", analysis.advice.next_step.in(names));
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
    out += heading("Each animal", "  ") + animal_table(control.animal_results);
  return out;
}

/// What the chances and the posterior intervals take for granted.
std::string prior_note(const TrialAnalysis& trial) {
  const bool needed = std::ranges::any_of(trial.groups, [](const GroupAnalysis& group) {
    return group.judgement.probabilities.has_value();
  });
  return needed ? paragraph("Chances and posterior intervals start from a prior under which a fall "
                            "and a rise are equally likely; with few eggs it matters "
                            "(docs/methods.md).")
                : std::string();
}

} // namespace

std::string analysis_summary(const TrialAnalysis& trial, Verbosity verbosity,
                             const SettingNames& names) {
  std::string out = fmt::format("Trial {}: {} treated group{}, {}\n", trial.trial,
                                trial.groups.size(), trial.groups.size() == 1 ? "" : "s",
                                trial.control ? "one untreated control" : "no untreated control");
  out += dashed_line();
  for (const GroupAnalysis& group : trial.groups)
    out += group_block(group, verbosity, names) + '\n';
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
  const std::string note = paragraph(drug_class_letters(trial)) + prior_note(trial) +
                           check_note(titles_from_memory(trial));
  if (note.empty())
    out.pop_back();
  return out + note;
}

} // namespace eggfall
