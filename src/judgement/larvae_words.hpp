#pragma once

#include "eggfall/judgement/judgement.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/statistics/worm_share.hpp"

#include <string>

// What cultures showed, in words.
namespace eggfall {

/// "11/100" if larvae were counted, "62%" if percentages were told that do not settle their number.
std::string larvae_as_cell(const WormShare& share);

/// "11 of 100", "62%", "<1%".
std::string larvae_in_short(const WormShare& share);

/// "11 of 100 larvae", "62% of the larvae", "under 1% of the larvae".
std::string larvae_in_words(const WormShare& share);

/// "at most 85.9%", "at least 99.1%". The interval must have one limit.
std::string limit_in_words(const Interval& interval);

/// Which cultures stand in for which that are missing, and what that takes for granted, as a
/// sentence; empty unless one does.
std::string stand_in_words(const WormShares& shares);

/// What else the cultures behind the shares take for granted, as sentences: percentages of a number
/// that was not told, and faeces of several groups in `before`, the group's culture before
/// treatment.
std::string cultures_in_words(const WormShares& shares, const Culture& before);

} // namespace eggfall
