#include "report/farmer_part.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/drawing/html_page.hpp"
#include "judgement/sample_words.hpp"
#include "report/farmer_words.hpp"
#include "report/figures/analysis_figures.hpp"
#include "report/result_words.hpp"
#include "report/safety_note.hpp"
#include "report/visit_words.hpp"

#include <fmt/format.h>

#include <set>

namespace eggfall {
namespace {

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

/// The dates, where all groups have the same; and how many animals were tested.
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

/// What may harm animals, or leaves next to nothing to go by, is told however slight it is.
bool is_for_farmer(const Caveat& caveat, const Standing& standing) {
  const bool told_already = !standing.bars.empty() && caveat.code == CaveatCode::worm_survives &&
                            standing.bars.front().code == BarCode::surviving_worm;
  if (told_already) // in plain words
    return false;
  return caveat.severity == Severity::serious || caveat.code == CaveatCode::overdosed ||
         caveat.code == CaveatCode::one_animal;
}

/// A sign, a name and words for it.
pugi::xml_node add_standing(pugi::xml_node parent, const char* element, const std::string& name,
                            const Standing& standing) {
  pugi::xml_node line = add_element(parent, element, "", "standing");
  add_inked_svg(line, sign_drawing(standing.sign));
  add_element(line, "span", name + ": ", "name");
  add_element(line, "span", standing_words(standing));
  return line;
}

/// The answer at one look: a line a drench, and one below it for each worm that was told apart.
void add_strip(pugi::xml_node part, const TrialAnalysis& trial) {
  pugi::xml_node strip = add_element(part, "ul", "", "strip");
  for (const GroupAnalysis& group : trial.groups) {
    pugi::xml_node item = add_element(strip, "li");
    add_element(add_standing(item, "p", group.evidence.group.name, group.judgement.standing),
                "span", short_reason(group), "reason");
    if (group.judgement.worms.empty())
      continue;
    pugi::xml_node worms = add_element(item, "ul", "", "strip");
    for (const WormAnalysis& worm : group.judgement.worms)
      add_standing(add_element(worms, "li"), "p", worm.worm, worm.judgement.standing);
  }
}

/// A tray without the words around it, which the card has.
void add_tray(pugi::xml_node card, std::optional<CaptionedFigure> tray) {
  if (tray)
    add_figure(card, {"", std::move(tray->svg), ""}, "tray");
}

void add_worm_rows(pugi::xml_node article, const GroupAnalysis& group) {
  if (group.judgement.worms.empty())
    return;
  pugi::xml_node worms = add_element(article, "div", "", "worms");
  for (const WormAnalysis& worm : group.judgement.worms) {
    pugi::xml_node row = add_element(worms, "section", "", "worm");
    add_standing(row, "h3", worm.worm, worm.judgement.standing);
    add_tray(row, eggs_left_figure(worm));
  }
}

void add_drench(pugi::xml_node part, const GroupAnalysis& group) {
  pugi::xml_node article = add_element(part, "article", "", "drench");
  add_standing(article, "h2", group.evidence.group.name, group.judgement.standing);
  if (const std::string what = group_description(group.evidence.group); !what.empty())
    add_element(article, "p", what, "note");
  add_tray(article, eggs_left_figure(group));
  add_element(article, "p", farmer_sentences(group));
  std::size_t serious = 0;
  constexpr std::size_t most_serious = 2;
  for (const Caveat& caveat : group.caveats)
    if (is_for_farmer(caveat, group.judgement.standing) &&
        (caveat.severity != Severity::serious || serious++ < most_serious))
      add_element(article, "p", caveat.text);
  add_worm_rows(article, group);
  if (!group.course.visits.empty()) {
    if (group.evidence.group.day_after)
      add_element(article, "p",
                  fmt::format("This answer is by the samples of day {} after the drench alone.",
                              *group.evidence.group.day_after));
    if (const std::string plain = plain_reappearance(group.course); !plain.empty())
      add_element(article, "p", plain);
  }
  pugi::xml_node next = add_element(article, "p", "", "next");
  add_element(next, "strong", "What to do: ");
  append_words(next, group.advice.next_step);
}

} // namespace

void add_farmer_part(pugi::xml_node body, const TrialAnalysis& trial) {
  pugi::xml_node part = add_element(body, "section", "", "farmer");
  add_element(part, "h1",
              fmt::format("{} still work? {}",
                          trial.groups.size() == 1 ? "Does the drench" : "Do the drenches",
                          trial.trial));
  add_strip(part, trial);
  add_element(part, "p", setting_words(trial));
  add_element(part, "p", std::string(tray_key()), "note");
  for (const GroupAnalysis& group : trial.groups)
    add_drench(part, group);
  if (trial.control)
    add_element(part, "p", control_sentences(*trial.control));
  const std::string letters = class_letters(trial);
  add_element(part, "p", limits_words(trial) + (letters.empty() ? "" : ' ' + letters), "note");
  add_element(part, "p", cautions(), "note");
}

} // namespace eggfall
