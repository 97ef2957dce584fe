#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "formats/drawing/captioned_figure.hpp"
#include "report/figures/fall_axis.hpp"

#include <optional>
#include <string>
#include <vector>

namespace eggfall {

// Figures of an analysis, in inks and read without colour; each holds a description in words.

/// The tray of 100 eggs: those left, and those that luck may have left, with the limits of the
/// verdict. Nothing without a reduction.
std::optional<CaptionedFigure> eggs_left_figure(const GroupAnalysis& analysis);

/// The same of one worm that was told apart, by verdict_of() it.
std::optional<CaptionedFigure> eggs_left_figure(const WormAnalysis& worm);

/// One axis for all figures of a trial: of the falls and intervals that its groups stand by.
FallRange fall_range_of(const TrialAnalysis& trial);

/// The fall of every treated group with its interval, and above it how well each fall agrees with
/// the counts, against the thresholds of its verdict.
CaptionedFigure falls_figure(const TrialAnalysis& trial);

/// Least and greatest counts in EPG, other than none, that share a scale.
struct CountRange {
  double least = 1;
  double most = 1;
};

/// Of all animals of the trial, untreated ones too; empty if none was counted.
std::optional<CountRange> count_range_of(const TrialAnalysis& trial);

/// Each animal's count before and after on a logarithmic scale, one egg and none told apart.
CaptionedFigure animals_figure(const GroupAnalysis& analysis, const CountRange& range);
CaptionedFigure animals_figure(const ControlAnalysis& control, const CountRange& range);

/// The interval by every method side by side. Nothing without a design.
std::optional<CaptionedFigure> intervals_figure(const GroupAnalysis& analysis,
                                                const FallRange& range);

/// Every animal's dose over its weight, with what the label asks and how far each animal's count
/// fell. Nothing unless two animals or more have a weight and a dose.
std::optional<CaptionedFigure> doses_figure(const GroupAnalysis& analysis);

/// The fall at each visit after treatment with its interval, time running down; of horses with the
/// threshold and the weeks of egg reappearance. Nothing without a visit whose day is known.
std::optional<CaptionedFigure> visits_figure(const GroupAnalysis& analysis);

/// A figure and a name for its file, such as "2-animals".
struct NamedFigure {
  std::string name;
  std::string svg;
};

/// All figures of a trial, each standing_alone(); groups are numbered from 1; that of all falls is
/// "falls".
std::vector<NamedFigure> analysis_figures(const TrialAnalysis& trial);

} // namespace eggfall
