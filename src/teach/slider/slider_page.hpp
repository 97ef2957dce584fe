#pragma once

#include "eggfall/simulation/audit.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace eggfall {

/// So many example tests of each setting fill a figure of the lesson page.
inline constexpr std::size_t slider_examples = 20;

/// A page (HTML) with a slider each for animals, multiplication factor, aggregation and true
/// efficacy, that shows what tests of the setting chosen come to: example tests with their
/// intervals, and the audit's shares. Everything shown is worked out and drawn here, a setting
/// beside the other; the page's script puts one in the other's place. Without a script the page
/// shows the setting closest to 10 animals, a factor of 50, k 0.7 and 93%.
///
/// `audit` is slider_audit() or one like it: two-group farms, of every combination of the four and
/// alike in all else but the eggs seen, k_after and control animals that go with them; by the
/// methods log-ratio-1992 and guarded-posterior, and the criteria waavp-1992 and
/// waavp-2023-clinical. `examples` holds audit_examples() of each of its farms, as many of each.
/// @throws CalculationError for any other.
std::string slider_page(const AuditResult& audit,
                        const std::vector<std::vector<AuditExample>>& examples);

} // namespace eggfall
