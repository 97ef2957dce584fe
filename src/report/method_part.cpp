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
    {"Bootstrap", "Animals drawn again at random from those of the trial, many times, to see how "
                  "much the fall depends on which were picked."},
    {"k", "The aggregation parameter: the smaller, the more a few animals hold most of the eggs."},
}};

std::string settings_text(const AnalysisSettings& settings) {
  return fmt::format(
      "Made by eggfall {} with seed {}. Intervals shown at {:g}%; {} bootstrap resamples; {} "
      "simulations of each next step. Priors: scale of the variation within animals {:g}, between "
      "animals {:g}; middle of the prior mean {:g} eggs a sample. Design: {}. Criteria shown "
      "first: {}.",
      version(), settings.seed, 100 * settings.level, settings.resamples, settings.simulations,
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
      "The interval shown first is the posterior's, guarded: moved out to the bootstrap's "
      "where that reaches further, since no one knows that the model fits, and to what the luck "
      "of counting allows by itself where that reaches further still, since few eggs cannot say "
      "more. The same counts, seed and version give the same numbers on every machine.");
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
