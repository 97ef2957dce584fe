#pragma once

#include "eggfall/judgement/field_check.hpp"

#include <optional>
#include <string>

namespace eggfall {

/// Looks at the numbers themselves for signs of a typing error. The counts are doubted as EPG typed
/// as eggs if all m different counts above zero have a divisor d > 1 in common although d^-m < p, p
/// being FieldPractice::common_divisor_chance (equal counts are one): eggs counted one by one
/// hardly ever have one, but EPG always, and d is then the factor by which they were multiplied, or
/// a multiple of it. They are also doubted if all are multiples of d = 16.667, 33.333 or 66.667
/// rounded up or down to a whole number, although (3d/4)^-m < p, luck giving such a number once in
/// 3d/4. Columns are doubted as swapped if FieldPractice::swapped_eggs or more were seen after
/// treatment, and at least FieldPractice::swapped_rise times as many eggs per gram as before, which
/// no season does. The bounds are practice. Nothing if neither is so.
std::optional<UnitDoubt> doubt_units(const Group& group);

/// Its divisor: "50", "33.333".
std::string divisor_text(const UnitDoubt& doubt);

} // namespace eggfall
