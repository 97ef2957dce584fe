#pragma once

#include "eggfall/judgement/trial_analysis.hpp"
#include "judgement/eggs_left.hpp"

#include <string>
#include <string_view>
#include <vector>

// The words of the page for the farmer: short, and without the terms of statistics.
namespace eggfall {

/// "Works", "Failing", "Can't tell yet", ...
std::string_view sign_words(DrenchSign sign);

/// The same of a standing: of a worm that survives, "Fails against haemonchus".
std::string standing_words(const Standing& standing);

/// A sign for it that is known by its shape: an SVG document of 24 by 24 units.
std::string sign_drawing(DrenchSign sign);

/// "Do the drenches still work? brackenhill"
std::string farmer_title(const TrialAnalysis& trial);

/// The dates, where all groups have the same; and how many animals were tested.
std::string setting_words(const TrialAnalysis& trial);

/// How many eggs were left, and how sure that is; that nothing could be compared, if so.
std::string fall_sentences(const GroupAnalysis& analysis);

/// What the sign means, in a sentence: of a standing that no bar takes away.
std::string sign_sentence(const GroupAnalysis& analysis);

/// What that means for the drench: by the bar that decides, if there is one.
std::string meaning_sentences(const GroupAnalysis& analysis);

/// "This holds if ...", of what the table does not say; empty if all is known.
std::string provided_sentence(const Standing& standing);

/// fall_sentences(); behind a bar as what they are, so that they are not heard as the answer.
std::string numbers_sentences(const GroupAnalysis& analysis);

/// What the result means and its numbers, whichever must be heard first, and on what it hangs.
std::string farmer_sentences(const GroupAnalysis& analysis);

/// The caveats that a farmer is told, the most serious first: those, and what may harm animals or
/// leaves next to nothing to go by, however slight it is.
std::vector<const Caveat*> caveats_for_farmer(const GroupAnalysis& analysis);

/// What a caveat of this code means, without the terms of statistics and whatever the trial: no
/// animal and no number. Empty of a code whose caveats say nothing without these.
std::string_view plain_words_of(CaveatCode code);

/// plain_words_of() a caveat, or else its own text.
std::string caveat_in_short(const Caveat& caveat);

/// The advice without what is meant for whoever runs the program: names of options and columns.
std::string what_to_do(const GroupAnalysis& analysis);

/// "worked on day 14, but eggs were likely back too soon (week 5; 6 to 8 weeks expected)": it
/// touches no class, and so is told beside it. Empty if they were not.
std::string early_return_in_short(const GroupAnalysis& analysis);

/// The bar or the reason for care that decides, in a few words; empty if there is neither.
std::string doubt_in_short(const Standing& standing);

/// Why it stands so, in a few words for a line of its own: the reason that decides, or else the
/// numbers of the tray.
std::string short_reason(const GroupAnalysis& analysis);

/// The numbers of the tray apart, for a table: "about 33", "none found", "167"; and "28 to 44",
/// "up to 5", "not known".
std::string found_in_short(const EggsLeft& left);
std::string range_in_short(const EggsLeft& left);

/// "good: up to 5" and "too many: over 10", with arrows: eggs that a fall leaves of 100, or of as
/// many as are told.
std::string good_words(double expected, int told_of);
std::string too_many_words(double lower, int told_of);

/// "about 33 of 100 left; could be 28 to 44": the numbers of farmer_sentences(), and of the tray.
std::string tray_numbers(const EggsLeft& left);

/// How the tray is to be read.
std::string_view tray_key();

/// "the range that allows for luck is made to hold the truth 90 times in 100". The trial must have
/// a treated group.
std::string luck_words(const TrialAnalysis& trial);

/// The rule that all drenches are judged by, or that each has its own; empty if none has one. The
/// trial must have a treated group.
std::string rule_words(const TrialAnalysis& trial);

/// Whose limits the trays show, and how often the range that allows for luck is right. The trial
/// must have a treated group.
std::string limits_words(const TrialAnalysis& trial);

/// What became of the untreated animals, and why that matters.
std::string control_sentences(const ControlAnalysis& control);

} // namespace eggfall
