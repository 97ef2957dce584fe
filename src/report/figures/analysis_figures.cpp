#include "report/figures/analysis_figures.hpp"

#include <fmt/format.h>

namespace eggfall {

std::vector<NamedFigure> analysis_figures(const TrialAnalysis& trial) {
  std::vector<NamedFigure> figures{{"falls", forest_figure(trial)}};
  for (std::size_t i = 0; i < trial.groups.size(); ++i) {
    const auto add = [&](const char* name, std::optional<std::string> svg) {
      if (svg)
        figures.push_back({fmt::format("{}-{}", i + 1, name), std::move(*svg)});
    };
    const GroupAnalysis& group = trial.groups[i];
    add("eggs-left", eggs_left_figure(group));
    add("animals", animals_figure(group));
    add("posterior", posterior_figure(group));
    add("intervals", intervals_figure(group));
  }
  return figures;
}

} // namespace eggfall
