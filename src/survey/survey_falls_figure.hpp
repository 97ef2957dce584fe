#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "formats/drawing/captioned_figure.hpp"
#include "report/figures/fall_axis.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// So many groups have each a line with its name; more are drawn line by line without.
inline constexpr std::size_t most_named_groups = 24;
/// Panels that are drawn, those with most groups.
inline constexpr std::size_t most_falls_panels = 12;

/// Groups judged by the same thresholds, and of the same classes, by their falls: the least first,
/// and last those without a fall. The rows live as long as those that the panel is of.
struct FallsPanel {
  std::string name; ///< "BZ, expected 95%".
  std::optional<double> lower;
  std::optional<double> expected;
  std::vector<const SurveyRow*> rows;
};

/// In the order of their classes and thresholds.
std::vector<FallsPanel> falls_panels(const std::vector<SurveyRow>& rows, const Criteria& criteria);

/// As fall_range(), but never from below 0, so that 50 to 100% have most of the axis. What lies
/// below stands at its end.
FallRange survey_fall_range(const std::vector<double>& falls);

/// A small arrow at the left end, for a fall below it: counts rose.
void add_rise_mark(pugi::xml_node parent, SvgPoint place);

/// A figure a panel, all with one axis: each group with a name while they are few, as thin lines
/// when they are many, and as a dense strip when they are more.
std::vector<CaptionedFigure> survey_falls_figures(const std::vector<FallsPanel>& panels);

/// How to read them.
std::string survey_falls_key(const std::vector<FallsPanel>& panels);

} // namespace eggfall
