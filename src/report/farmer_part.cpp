#include "report/farmer_part.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/drawing/html_page.hpp"
#include "report/farmer_words.hpp"
#include "report/figures/analysis_figures.hpp"
#include "report/result_words.hpp"
#include "report/safety_note.hpp"
#include "report/visit_words.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

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
    for (const WormAnalysis& worm : group.judgement.worms) {
      const Standing& standing = worm.judgement.standing;
      const pugi::xml_node line = add_standing(add_element(worms, "li"), "p", worm.worm, standing);
      if (const std::string doubt = doubt_in_short(standing); !doubt.empty())
        add_element(line, "span", doubt, "reason");
    }
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
    if (is_barred(worm.judgement.standing))
      add_element(row, "p", worm.judgement.standing.bars.front().plain);
  }
}

void add_drench(pugi::xml_node part, const GroupAnalysis& group) {
  pugi::xml_node article = add_element(part, "article", "", "drench");
  add_standing(article, "h2", group.evidence.group.name, group.judgement.standing);
  if (const std::string what = group_description(group.evidence.group); !what.empty())
    add_element(article, "p", what, "note");
  if (const std::string early = early_return_in_short(group); !early.empty())
    add_element(article, "p", capitalised(early) + '.');
  add_tray(article, eggs_left_figure(group));
  add_element(article, "p", farmer_sentences(group));
  std::size_t serious = 0;
  constexpr std::size_t most_serious = 2;
  for (const Caveat* const caveat : caveats_for_farmer(group))
    if (caveat->severity != Severity::serious || serious++ < most_serious)
      add_element(article, "p", caveat->text);
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
  append_words(next, group.advice.next_step.text());
}

} // namespace

void add_farmer_part(pugi::xml_node body, const TrialAnalysis& trial) {
  pugi::xml_node part = add_element(body, "section", "", "farmer");
  add_element(part, "h1", farmer_title(trial));
  add_strip(part, trial);
  add_element(part, "p", setting_words(trial));
  add_element(part, "p", std::string(tray_key()), "note");
  for (const GroupAnalysis& group : trial.groups)
    add_drench(part, group);
  if (trial.control)
    add_element(part, "p", control_sentences(*trial.control));
  const std::string letters = drug_class_letters(trial);
  add_element(part, "p", limits_words(trial) + (letters.empty() ? "" : ' ' + letters), "note");
  add_element(part, "p", cautions(), "note");
}

} // namespace eggfall
