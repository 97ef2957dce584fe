#include "report/farmer_letter.hpp"

#include "base/text.hpp"
#include "judgement/eggs_left.hpp"
#include "report/farmer_words.hpp"
#include "report/safety_note.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr unsigned letterhead_lines = 4;

enum class Warnings {
  all,
  of_any_drench, ///< Those that tell of no animal and no number, so that they may hold of another.
};

/// What the farmer is to beware of, each once.
std::vector<std::string> warnings_of(const GroupAnalysis& group, Warnings which) {
  std::vector<std::string> warnings;
  for (const Caveat* const caveat : caveats_for_farmer(group)) {
    std::string text = caveat_in_short(*caveat);
    // Numbers and animals stand in the caveat's own text alone.
    const bool wanted = which == Warnings::all || !plain_words_of(caveat->code).empty();
    if (wanted && std::ranges::find(warnings, text) == warnings.end())
      warnings.push_back(std::move(text));
  }
  return warnings;
}

/// What holds for all drenches of a trial alike, so that it need be said only once.
struct SharedDoubts {
  std::vector<std::string> warnings = {};
  std::string provided = {}; ///< As of a standing.
};

/// Of a single drench nothing is shared.
SharedDoubts shared_doubts(const TrialAnalysis& trial) {
  if (trial.groups.size() < 2)
    return {};
  const GroupAnalysis& first = trial.groups.front();
  SharedDoubts shared{warnings_of(first, Warnings::of_any_drench),
                      first.judgement.standing.provided};
  for (const GroupAnalysis& group : trial.groups) {
    const std::vector<std::string> own = warnings_of(group, Warnings::of_any_drench);
    std::erase_if(shared.warnings, [&](const std::string& warning) {
      return std::ranges::find(own, warning) == own.end();
    });
    if (group.judgement.standing.provided != shared.provided)
      shared.provided.clear();
  }
  return shared;
}

/// Good news, and no news, are not to be heard before what speaks against them; bad news are not to
/// be softened by it.
bool doubts_come_first(DrenchSign sign) {
  return sign == DrenchSign::works || sign == DrenchSign::works_with_care ||
         sign == DrenchSign::cannot_tell;
}

/// What speaks against a result, the gravest first, but for a bar that takes the result away.
std::vector<std::string> doubts_of(const GroupAnalysis& group, const SharedDoubts& shared) {
  const Standing& standing = group.judgement.standing;
  std::vector<std::string> doubts;
  if (const std::string early = early_return_in_short(group); !early.empty())
    doubts.push_back(capitalised(early) + '.');
  if (!standing.bars.empty() && gives_own_verdict(standing.bars.front()))
    doubts.push_back(standing.bars.front().plain);
  if (standing.care && standing.care != Care::other_warning)
    doubts.push_back(fmt::format("Take care: {}.", doubt_in_short(standing)));
  for (std::string& warning : warnings_of(group, Warnings::all))
    if (std::ranges::find(shared.warnings, warning) == shared.warnings.end())
      doubts.push_back(std::move(warning));
  if (shared.provided.empty() && !standing.provided.empty())
    doubts.push_back(provided_sentence(standing));
  return doubts;
}

/// "About 33 of 100 left. ", of the worm by which the drench fails, before the numbers of all.
std::string worm_that_survives(const GroupAnalysis& group) {
  return group.judgement.standing.bars.front().code == BarCode::surviving_worm
             ? capitalised(short_reason(group)) + ". "
             : std::string();
}

std::string drench_text(const GroupAnalysis& group, const SharedDoubts& shared) {
  const Standing& standing = group.judgement.standing;
  std::vector<std::string> sentences;
  if (is_barred(standing))
    sentences = {meaning_sentences(group), worm_that_survives(group) + numbers_sentences(group)};
  else if (eggs_left(group.evidence, group.judgement))
    sentences = {numbers_sentences(group), sign_sentence(group)};
  else
    sentences = {numbers_sentences(group)};
  const std::vector<std::string> doubts = doubts_of(group, shared);
  // A bar that takes the result away has said so before all others.
  const auto place = !doubts_come_first(standing.sign) ? sentences.end()
                     : is_barred(standing)             ? sentences.begin() + 1
                                                       : sentences.begin();
  sentences.insert(place, doubts.begin(), doubts.end());
  return fmt::format("{}", fmt::join(sentences, " "));
}

/// `early`: early_return_in_short().
std::string verdict_cell(const Standing& standing, const std::string& early) {
  std::string doubt = doubt_in_short(standing);
  if (!early.empty())
    doubt = early + (doubt.empty() ? "" : "; " + doubt);
  if (doubt.empty() && standing.sign == DrenchSign::works && !standing.provided.empty())
    doubt = "holds with an if, see the text";
  return standing_words(standing) + (doubt.empty() ? "" : ": " + doubt);
}

/// "white drench (benzimidazole oral)"
std::string drench_cell(const Group& group) {
  return group.drench.empty() || lower_case(group.drench) == lower_case(group.name)
             ? group.name
             : fmt::format("{} ({})", group.name, group.drench);
}

/// The verdict stands before the numbers.
std::vector<std::string> table_row(std::string name, std::string answer,
                                   const std::optional<EggsLeft>& left) {
  return {std::move(name), std::move(answer), left ? found_in_short(*left) : "not known",
          left ? range_in_short(*left) : "not known"};
}

TextTable drench_table(const TrialAnalysis& trial) {
  TextTable table{{"Drench", "Answer", "Left of 100 eggs", "Could be"}, {}, {}};
  table.widths = {35, 33, 16, 16};
  for (const GroupAnalysis& group : trial.groups) {
    table.rows.push_back(
        table_row(drench_cell(group.evidence.group),
                  verdict_cell(group.judgement.standing, early_return_in_short(group)),
                  eggs_left(group.evidence, group.judgement)));
    for (const WormAnalysis& worm : group.judgement.worms)
      table.rows.push_back(table_row("\u2013 against " + worm.worm,
                                     verdict_cell(worm.judgement.standing, {}),
                                     eggs_left(worm.evidence, worm.judgement)));
  }
  return table;
}

/// In a sentence or two.
std::string how_worked_out(const TrialAnalysis& trial) {
  bool compared = false;
  bool before = false;
  bool untreated = false;
  bool judged = false;
  bool unchecked = false; // A rule's numbers may have been noted from memory.
  for (const GroupAnalysis& group : trial.groups) {
    judged = judged || group.judgement.standing.verdict_class != VerdictClass::not_applicable;
    unchecked =
        unchecked || group.judgement.first_verdict().citation.provenance == Provenance::memory;
    const std::optional<Design>& design = group.evidence.design;
    if (!design)
      continue;
    compared = true;
    before = before || pairs_animals(*design);
    untreated = untreated || *design != Design::paired || group.judgement.own_fall;
  }
  if (!compared)
    return "Worm eggs were counted in dung, but there was nothing to compare them with.";
  std::string text = "Worm eggs were counted in dung of ";
  text += !before     ? "treated animals after the drench, and in that of untreated ones"
          : untreated ? "the same animals before the drench and after it, and in that of untreated "
                        "ones"
                      : "the same animals before the drench and after it";
  if (const std::string rule = rule_words(trial); judged && !rule.empty())
    text += fmt::format(", and what was left is judged by {}", rule);
  text += "; " + luck_words(trial) + '.';
  if (judged && unchecked)
    text += " The numbers of that rule are still to be checked against the published guideline.";
  return text;
}

TextPart letter_of(const TrialAnalysis& trial, const ReportHeading& heading) {
  TextPart letter;
  const auto say = [&](TextStyle style, std::vector<TextRun> runs) {
    letter.emplace_back(TextParagraph{style, std::move(runs)});
  };
  letter.emplace_back(TextGap{letterhead_lines});
  letter.emplace_back(TextEntry{"Date"});
  const std::string comma = heading.owner.empty() || heading.farm.empty() ? "" : ", ";
  letter.emplace_back(TextEntry{"To", heading.owner + comma + heading.farm});
  letter.emplace_back(TextEntry{"From", heading.veterinarian});
  say(TextStyle::title, {{farmer_title(trial)}});
  say(TextStyle::body, {{setting_words(trial)}});
  const SharedDoubts shared = shared_doubts(trial);
  std::vector<std::string> of_all = shared.warnings;
  if (!shared.provided.empty())
    of_all.push_back(fmt::format("What this letter says holds if {}.", shared.provided));
  if (!of_all.empty())
    say(TextStyle::body,
        {{"Of all these drenches: ", true}, {fmt::format("{}", fmt::join(of_all, " "))}});
  letter.emplace_back(drench_table(trial));
  for (const GroupAnalysis& group : trial.groups) {
    say(TextStyle::heading, {{fmt::format("{}: {}", group.evidence.group.name,
                                          standing_words(group.judgement.standing))}});
    say(TextStyle::body, {{drench_text(group, shared)}});
    say(TextStyle::body, {{"What to do: ", true}, {what_to_do(group)}});
  }
  const std::string control = trial.control ? " " + control_sentences(*trial.control) : "";
  say(TextStyle::note, {{"How this was worked out: ", true}, {how_worked_out(trial) + control}});
  say(TextStyle::note, {{cautions()}});
  letter.emplace_back(TextEntry{"Signature", "", true});
  return letter;
}

} // namespace

TextDocument farmer_letters(const std::vector<TrialAnalysis>& trials,
                            const ReportHeading& heading) {
  TextDocument document;
  document.title = trials.size() == 1 ? "Letter on the drench test: " + trials.front().trial
                                      : fmt::format("Letters on {} drench tests", trials.size());
  for (const TrialAnalysis& trial : trials)
    document.parts.push_back(letter_of(trial, heading));
  return document;
}

} // namespace eggfall
