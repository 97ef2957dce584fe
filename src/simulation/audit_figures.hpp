#pragma once

#include "eggfall/simulation/audit.hpp"
#include "formats/drawing/panel_figure.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The designs of a result that a figure can show: those with a method, and a trial with a
/// reduction.
std::vector<Design> designs_to_draw(const AuditResult& result);

/// One panel a design and method: the coverage of each farm against its true efficacy, with a band
/// from coverage_target() up, on the axis of stretched_coverage(). Farms without an estimable trial
/// are left out. The result must live as long as the figure.
/// @throws InputError if no farm is left.
PanelFigure coverage_panels(const AuditResult& result);

/// One panel a criterion and method: the mean share of the trials given each class against the true
/// efficacy, each farm counting the same, and the class that the true efficacy itself would be
/// given. The methods shown are the posteriors, the bootstrap by BCa, the log ratios and any that a
/// criterion demands, or whichever there are if none of these was audited; one panel is enough for
/// Rule::reduction_alone, which needs none. Farms without an estimable trial are left out. The
/// result must live as long as the figure.
/// @throws InputError if the design has no farm left, or there is no criterion or no method.
PanelFigure verdict_panels(const AuditResult& result, Design design);

/// Each of them as one SVG document.
std::string coverage_figure(const AuditResult& result);
std::string verdict_figure(const AuditResult& result, Design design);

} // namespace eggfall
