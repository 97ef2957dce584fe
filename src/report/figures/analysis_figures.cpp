#include "report/figures/analysis_figures.hpp"

#include "eggfall/base/version.hpp"
#include "report/result_words.hpp"

#include <fmt/format.h>

namespace eggfall {

std::vector<NamedFigure> analysis_figures(const TrialAnalysis& trial) {
  const std::string source =
      fmt::format("eggfall {}, from the counts of {}", version(), trial.trial);
  std::vector<NamedFigure> figures;
  const auto add = [&](const std::string& name, const std::optional<CaptionedFigure>& figure,
                       const std::string& about) {
    if (figure)
      figures.push_back({name, standing_alone(*figure, about, source)});
  };
  add("falls", falls_figure(trial), fmt::format("Trial {}", trial.trial));
  const FallRange falls = fall_range_of(trial);
  const std::optional<CountRange> counts = count_range_of(trial);
  for (std::size_t i = 0; i < trial.groups.size(); ++i) {
    const GroupAnalysis& group = trial.groups[i];
    const std::string what = group_description(group.evidence.group);
    const std::string about = fmt::format("Trial {}, {}{}", trial.trial, group.evidence.group.name,
                                          what.empty() ? "" : fmt::format(" ({})", what));
    const auto named = [i](const std::string& name) { return fmt::format("{}-{}", i + 1, name); };
    add(named("eggs-left"), eggs_left_figure(group), about);
    for (std::size_t worm = 0; worm < group.judgement.worms.size(); ++worm)
      add(named(fmt::format("eggs-left-worm-{}", worm + 1)),
          eggs_left_figure(group.judgement.worms[worm]), about);
    if (counts)
      add(named("animals"), animals_figure(group, *counts), about);
    add(named("intervals"), intervals_figure(group, falls), about);
    add(named("doses"), doses_figure(group), about);
    add(named("visits"), visits_figure(group), about);
  }
  if (trial.control && counts)
    add("control-animals", animals_figure(*trial.control, *counts),
        fmt::format("Trial {}", trial.trial));
  return figures;
}

} // namespace eggfall
