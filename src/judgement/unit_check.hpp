#pragma once

#include "eggfall/judgement/field_check.hpp"

#include <optional>
#include <string>

namespace eggfall {

/// Looks at the numbers themselves for what a typing error leaves. All the m different counts above
/// zero have a divisor d > 1 in common although d^-m < 0.001 (equal counts tell it once), which
/// eggs counted one by one hardly ever have, but EPG always (d is then the factor they were
/// multiplied by, or a multiple of it); or all are multiples of 16.667, 33.333 or 66.667 made
/// whole, up or down, although luck would do that one time in 3d/4 for each; or there are five
/// times as many eggs after treatment as before, or more, which no season does, but swapped columns
/// do. Both bounds are practice. Nothing if neither is so.
std::optional<UnitDoubt> doubt_units(const Group& group);

/// Its divisor: "50", "33.333".
std::string divisor_text(const UnitDoubt& doubt);

} // namespace eggfall
