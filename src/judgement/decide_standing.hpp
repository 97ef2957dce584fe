#pragma once

#include "eggfall/judgement/caveat.hpp"
#include "eggfall/judgement/field_check.hpp"
#include "eggfall/judgement/judgement.hpp"
#include "eggfall/judgement/standing.hpp"

#include <string>
#include <vector>

// Whether a drench is called good, and with what care, is decided here and nowhere else.
namespace eggfall {

/// The standing of a group: the class that the bars leave of its first verdict, or of the verdict
/// on its own fall where there is one. `judgement` must be complete but for its standing, and its
/// worms must have their standings; `bars` are find_bars() of the group.
Standing standing_of(const Judgement& judgement, const std::vector<Caveat>& caveats,
                     std::vector<Bar> bars);

/// Gives a group its standing; where a bar decides, what speaks for the counts alone is withheld.
void decide(Judgement& judgement, const std::vector<Caveat>& caveats, std::vector<Bar> bars,
            const FieldCheck& field);

/// The standing of one worm: what its own bars leave of its first given verdict.
Standing standing_of(const WormAnalysis& worm, std::vector<Bar> bars);

/// Titles of the criteria by which a group is resistant, low resistant or suspected.
std::vector<std::string> criteria_not_met(const std::vector<Verdict>& verdicts);

} // namespace eggfall
