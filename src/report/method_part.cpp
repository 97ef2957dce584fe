#include "report/method_part.hpp"

#include "base/text.hpp"
#include "eggfall/base/version.hpp"
#include "formats/drawing/html_page.hpp"
#include "report/cut_offs_text.hpp"
#include "report/result_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace eggfall {
namespace {

constexpr std::array<std::pair<const char*, const char*>, 12> glossary{{
    {"EPG", "Eggs per gram of faeces: eggs seen, times what one egg stands for."},
    {"One egg stands for", "The multiplication factor: the volume of the suspension, divided by "
                           "the grams of faeces and the volume counted. It is also the least count "
                           "above none that a sample can show."},
    {"Fall", "1 less the mean count after treatment divided by that before (or, as the design "
             "says, by that of the untreated animals). Means are arithmetic."},
    {"Interval", "The falls that these counts leave open. A 90% interval is made so as to hold the "
                 "true fall nine times in ten."},
    {"Expected fall", "What the criterion asks of a drench against worms that it kills well."},
    {"Lower threshold", "The fall below which the criterion no longer calls a drench good enough."},
    {"Susceptible", "The whole interval lies at or above the lower threshold, and it reaches the "
                    "expected fall (criteria of two one-sided tests)."},
    {"Resistant",
     "The interval ends below the expected fall, and begins below the lower threshold; "
     "low resistant if it begins at or above it."},
    {"Inconclusive", "Neither can be said. That is no proof that a drench works."},
    {"Posterior", "How likely each true fall is, given the counts, a model of how they scatter and "
                  "a prior under which a fall and a rise are equally likely."},
    {"Bootstrap", "What the fall would be, had other animals been picked: those of the trial, some "
                  "left out and some counted twice. All such picks are reckoned at once."},
    {"k", "The aggregation parameter: the smaller, the more a few animals hold most of the eggs."},
}};

std::string settings_text(const AnalysisSettings& settings) {
  return fmt::format(
      "Made by eggfall {}. Intervals shown at {:g}%. What a larger trial would have shown "
      "is simulated, {} times each, from seed {}; nothing else is. Priors: scale of the variation "
      "within animals {:g}, between "
      "animals {:g}; middle of the prior mean {:g} eggs a sample. Design: {}. Criteria shown "
      "first: {}.",
      version(), 100 * settings.level, settings.simulations, settings.seed,
      settings.priors.within_animals.scale, settings.priors.mean.between_animals.scale,
      settings.priors.mean.middle_eggs,
      settings.design ? std::string(to_string(*settings.design))
                      : "the best that each group's samples allow",
      settings.criteria.empty() ? "the first of all" : settings.criteria);
}

/// What tables that were not in our own form were taken for, each line once.
void add_reading(pugi::xml_node part, const std::vector<TrialAnalysis>& trials) {
  std::vector<std::string> lines;
  for (const TrialAnalysis& trial : trials)
    for (const std::string& line : trial.reading)
      if (std::ranges::find(lines, line) == lines.end())
        lines.push_back(line);
  if (lines.empty())
    return;
  add_element(part, "h2", "How the table was read");
  add_element(part, "p",
              "The counts came in a table of its owner's own form. Compare what it was taken for "
              "with the table itself.");
  pugi::xml_node list = add_element(part, "ul");
  for (const std::string& line : lines)
    add_element(list, "li", line);
}

} // namespace

void add_method_part(pugi::xml_node body, const std::vector<TrialAnalysis>& trials,
                     const AnalysisSettings& settings) {
  pugi::xml_node part = add_element(body, "section", "", "method");
  add_element(part, "h2", "How the numbers were made");
  add_element(
      part, "p",
      "Three witnesses speak on each fall: a posterior, whose model takes one efficacy for all "
      "animals; the bootstrap over animals, since no one knows that the model fits; and the luck "
      "of counting by itself, since few eggs cannot say more. The interval shown first and the "
      "chances beside it are those of all three together, at each point the most doubtful's. "
      "Nothing in them is drawn at random: the same counts give the same numbers, whatever the "
      "trial is called and in whatever order its animals stand.");
  add_element(part, "p", settings_text(settings), "note");
  add_reading(part, trials);
  std::vector<std::string> from_memory;
  for (const TrialAnalysis& trial : trials)
    for (const std::string& title : titles_from_memory(trial))
      if (std::ranges::find(from_memory, title) == from_memory.end())
        from_memory.push_back(title);
  if (!from_memory.empty())
    add_element(part, "p", flowing(check_note(from_memory)), "note");
  add_element(part, "h2", "Words");
  pugi::xml_node list = add_element(part, "dl");
  for (const auto& [word, meaning] : glossary) {
    add_element(list, "dt", word);
    add_element(list, "dd", meaning);
  }
}

} // namespace eggfall
