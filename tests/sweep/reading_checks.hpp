#pragma once

#include "field_trial.hpp"
#include "tally.hpp"

#include "eggfall/trial/trial.hpp"

#include <optional>
#include <string>
#include <vector>

/// The counts table of the trial with its groups and animals in the order of their names: two
/// trials are the same if theirs are.
std::string in_order_of_names(eggfall::Trial trial);

/// Writes the trial as somebody might keep it, has it understood, and checks that it is the same
/// trial or is asked about.
/// @return the trial as the strict reader has it; nothing (and a breach) if that refuses it.
std::optional<eggfall::Trial> check_reading(Tally& tally, const SweptTrial& swept,
                                            const FieldTrial& field, std::uint64_t seed);

/// The same of an untidy_table(), which has a trial of its own.
void check_untidy_reading(Tally& tally, const SweptTrial& swept, std::uint64_t seed);

/// Reads the larvae table for the trial, and checks that it says what was counted.
/// @return the trial with its cultures; nothing if there are none, or they are refused.
std::optional<eggfall::Trial> check_larvae(Tally& tally, const SweptTrial& swept,
                                           const FieldTrial& field, const eggfall::Trial& trial);

/// The bytes of the trial as it is kept, for people who look into a breach.
std::string kept_text(const FieldTrial& field, std::uint64_t seed);
