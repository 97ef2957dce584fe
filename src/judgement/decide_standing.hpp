#pragma once

#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/standing.hpp"

#include <string>
#include <vector>

// Whether a drench is called good, and with what care, is decided here and nowhere else.
namespace eggfall {

/// The standing of a group: `judgement` is complete but for it.
Standing standing_of(const Judgement& judgement, const std::vector<Caveat>& caveats);

/// That of one worm: what its first given verdict says.
Standing standing_of(const WormAnalysis& worm);

/// Titles of the criteria by which a group is resistant, low resistant or suspected.
std::vector<std::string> criteria_not_met(const std::vector<Verdict>& verdicts);

} // namespace eggfall
