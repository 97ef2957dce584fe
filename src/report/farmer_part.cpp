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

void add_drench(pugi::xml_node part, const GroupAnalysis& group) {
  const DrenchSign sign = group.judgement.standing.sign;
  pugi::xml_node article = add_element(part, "article", "", "drench");
  pugi::xml_node heading = add_element(article, "h2", "", "standing");
  add_svg(heading, sign_drawing(sign));
  add_element(heading, "span", group.evidence.group.name + ": ", "name");
  add_element(heading, "span", standing_words(group.judgement.standing));
  if (const std::string what = group_description(group.evidence.group); !what.empty())
    add_element(article, "p", what, "note");
  add_element(article, "p", farmer_sentences(group));
  if (const auto tray = eggs_left_figure(group))
    add_svg(add_element(article, "figure"), *tray);
  std::size_t serious = 0;
  constexpr std::size_t most_serious = 2;
  for (const Caveat& caveat : group.caveats)
    if (is_for_farmer(caveat, group.judgement.standing) &&
        (caveat.severity != Severity::serious || serious++ < most_serious))
      add_element(article, "p", caveat.text);
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
  add_element(part, "p", setting_words(trial));
  if (const std::string letters = class_letters(trial); !letters.empty())
    add_element(part, "p", letters, "note");
  for (const GroupAnalysis& group : trial.groups)
    add_drench(part, group);
  if (trial.control)
    add_element(part, "p", control_sentences(*trial.control));
  add_element(
      part, "p",
      tray_words(trial) +
          fmt::format(" The range that allows for luck is made to hold the truth {:g} times "
                      "in 100.",
                      100 * trial.groups.front().evidence.headline.level),
      "note");
  add_element(part, "p", cautions(), "note");
}

} // namespace eggfall
