#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <optional>
#include <string>
#include <vector>

// The words that the result of an analysis is told in, on screen and on paper.
namespace eggfall {

/// "BZ, sheep": what is known of a group beside its name; empty if nothing.
std::string group_description(const Group& group);

/// "susceptible", "resistant: haemonchus", or "susceptible, haemonchus in doubt".
std::string verdict_words(const GroupAnalysis& analysis);

/// "90% interval 85.2% to 95.9% (posterior, guarded)". The interval must be usable.
std::string interval_text(const Interval& interval);

/// What the letters of the trial's drug classes stand for: "BZ: benzimidazoles; LV: levamisole.";
/// empty if no group has a class.
std::string drug_class_letters(const TrialAnalysis& trial);

/// The first verdict as it stands behind the standing: by the counts alone where a bar decides, and
/// with what it takes for granted.
std::string first_verdict_text(const GroupAnalysis& analysis);

/// "day+control"; for tables.
std::string bar_codes(const Standing& standing);

/// The fall and its interval, "none: counts rose by ...", or "not available".
std::string fall_text(const GroupAnalysis& analysis);

/// A mean in EPG, with a decimal below 10.
std::string mean_text(const std::optional<double>& epg);

/// Means, eggs seen and animals on both sides of a comparison. The group must have a design.
std::string counts_text(const GroupAnalysis& analysis);

/// "resistant by WAAVP 2023, clinical: the upper limit ...".
std::string verdict_text(const Verdict& verdict, const GroupAnalysis& analysis);

/// The same without the criterion, for a table that names it.
std::string verdict_and_reason(const Verdict& verdict, const GroupAnalysis& analysis);

/// Those that apply, but for the first; empty if none does.
std::string other_verdicts(const std::vector<Verdict>& verdicts);

/// "... of 100 farms with counts like these about 83 would have a true efficacy below 95%, ...",
/// and why that is no contradiction where it looks at odds with the verdict. The group must have
/// probabilities.
std::string chance_text(const GroupAnalysis& analysis);

/// "... 2 times the volume counted 35%, 4 times the volume counted 45%; 5 more animals 30%, ...".
/// There must be larger trials.
std::string larger_trials_text(const GroupAnalysis& analysis);

/// What untreated animals did, and what is left of the fall without the season; empty where nobody
/// tells of it, and where the control's bar does.
std::string season_text(const GroupAnalysis& analysis);

/// Why the intervals differ, where they do; empty otherwise.
std::string disagreement_text(const MethodDisagreement& disagreement);

/// "12/100" larvae, "31 eggs", or "-".
std::string found_text(const WormFound& found);

/// By which criteria the worms are judged, if not by those of the group's own verdict.
std::string judged_by_others(const GroupAnalysis& analysis);

/// The bars of a worm that its group has not in the same words.
std::vector<const Bar*> bars_of_worm_alone(const WormAnalysis& worm, const GroupAnalysis& analysis);

/// What is said beside the table of worms; empty if nothing.
std::string worms_note(const GroupAnalysis& analysis);

/// Animals, mean, variance and k of the eggs seen.
std::string spread_text(const SampleSummary& sample);

/// What became of the untreated animals.
std::string control_text(const ControlAnalysis& control);

/// Titles of the criteria that gave a verdict and were noted from memory, each once.
std::vector<std::string> titles_from_memory(const TrialAnalysis& trial);

} // namespace eggfall
