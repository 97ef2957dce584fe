#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <string>
#include <string_view>

// The words of the page for the farmer: short, and without the terms of statistics.
namespace eggfall {

/// "Works", "Failing", "Can't tell yet", ...
std::string_view sign_words(DrenchSign sign);

/// The same of a standing: of a worm that survives, "It fails against haemonchus".
std::string standing_words(const Standing& standing);

/// A sign for it that is known by its shape: an SVG document of 24 by 24 units.
std::string sign_drawing(DrenchSign sign);

/// How many eggs were left, how sure that is, and what it means; two or three sentences.
std::string farmer_sentences(const GroupAnalysis& analysis);

/// How the tray of eggs is to be read, and its marks. The trial must have a treated group.
std::string tray_words(const TrialAnalysis& trial);

/// What became of the untreated animals, and why that matters.
std::string control_sentences(const ControlAnalysis& control);

} // namespace eggfall
