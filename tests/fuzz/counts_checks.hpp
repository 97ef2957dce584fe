#pragma once

#include "eggfall/trial/read_trials.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace fuzz {

/// For tables that give no factor of their own.
inline eggfall::ReadOptions with_factor() {
  eggfall::ReadOptions options;
  options.factor_before = options.factor_after = eggfall::MultiplicationFactor(50);
  options.host = "sheep";
  return options;
}

/// @throws BrokenPromise unless counts_table() of the trials is read back as the same trials.
void check_written_and_read_back(const std::vector<eggfall::Trial>& trials);

/// @throws BrokenPromise if TrialStream, fed in small pieces, makes of the table what differs from
///   `whole`, what read_trials() made of it.
void check_read_in_pieces(std::string_view bytes, const eggfall::TrialTable& whole);

} // namespace fuzz
