#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "judgement/eggs_left.hpp"

#include <string>
#include <string_view>

// The words of the page for the farmer: short, and without the terms of statistics.
namespace eggfall {

/// "Works", "Failing", "Can't tell yet", ...
std::string_view sign_words(DrenchSign sign);

/// The same of a standing: of a worm that survives, "Fails against haemonchus".
std::string standing_words(const Standing& standing);

/// A sign for it that is known by its shape: an SVG document of 24 by 24 units.
std::string sign_drawing(DrenchSign sign);

/// How many eggs were left, how sure that is, and what it means; two or three sentences.
std::string farmer_sentences(const GroupAnalysis& analysis);

/// Why it stands so, in a few words for a line of its own: the reason that decides, or else the
/// numbers of the tray.
std::string short_reason(const GroupAnalysis& analysis);

/// "good: up to 5" and "too many: over 10", with arrows: eggs of 100 that a fall leaves.
std::string good_words(double expected);
std::string too_many_words(double lower);

/// "about 33 of 100 left; could be 28 to 44": the numbers of farmer_sentences(), and of the tray.
std::string tray_numbers(const EggsLeft& left);

/// How the tray is to be read.
std::string_view tray_key();

/// Whose limits the trays show, and how often the range that allows for luck is right. The trial
/// must have a treated group.
std::string limits_words(const TrialAnalysis& trial);

/// What became of the untreated animals, and why that matters.
std::string control_sentences(const ControlAnalysis& control);

} // namespace eggfall
