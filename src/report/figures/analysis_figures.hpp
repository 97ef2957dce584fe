#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <optional>
#include <string>
#include <vector>

namespace eggfall {

// Figures of an analysis, as SVG documents of 360 units width, read without colour; each holds a
// title and a description in words.

/// Of 100 eggs before, those left: at the least, perhaps, and gone; with the thresholds of the
/// verdict shown first. Nothing without a reduction.
std::optional<std::string> eggs_left_figure(const GroupAnalysis& analysis);

/// The fall of every treated group with its interval, against the thresholds of its verdict.
std::string forest_figure(const TrialAnalysis& trial);

/// Each animal's count before and after on a logarithmic scale, one egg and none told apart.
/// Nothing if no animal was counted.
std::optional<std::string> animals_figure(const GroupAnalysis& analysis);

/// The posterior density over the fall, with the thresholds and how much lies on each side of them.
/// Nothing without a posterior.
std::optional<std::string> posterior_figure(const GroupAnalysis& analysis);

/// The interval by every method side by side. Nothing without a design.
std::optional<std::string> intervals_figure(const GroupAnalysis& analysis);

/// A figure and a name for its file, such as "2-posterior".
struct NamedFigure {
  std::string name;
  std::string svg;
};

/// All figures of a trial; groups are numbered from 1; the forest is "falls".
std::vector<NamedFigure> analysis_figures(const TrialAnalysis& trial);

} // namespace eggfall
