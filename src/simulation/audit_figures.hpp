#pragma once

#include "eggfall/simulation/audit.hpp"

#include <string>

namespace eggfall {

/// An SVG document with one panel a design and method: the coverage of each cell against its true
/// efficacy, with a band from coverage_target() up. Cells without an estimable trial are left out.
/// @throws InputError if no cell is left.
std::string coverage_figure(const AuditResult& result);

/// An SVG document with one panel a criterion and method: the mean share of the trials given each
/// class against the true efficacy, each cell counting the same, and the class that the true
/// efficacy itself would be given. The methods shown are the posteriors, the bootstrap by BCa, the
/// log ratios and any that a criterion demands, or whichever there are if none of these was
/// audited; one panel is enough for Rule::reduction_alone, which needs none. Cells without an
/// estimable trial are left out.
/// @throws InputError if the design has no cell left, or there is no criterion or no method.
std::string verdict_figure(const AuditResult& result, Design design);

} // namespace eggfall
