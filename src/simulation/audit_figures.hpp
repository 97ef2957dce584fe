#pragma once

#include "eggfall/simulation/audit.hpp"
#include "formats/drawing/panel_figure.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// The designs of a result that a figure can show: those that have an audited method, and a farm
/// with a trial that gave a reduction.
std::vector<Design> designs_to_draw(const AuditResult& result);

/// One panel for each design and method: the coverage of each farm against its true efficacy, on
/// the axis of stretched_coverage(), with a band from coverage_target() up. Farms are left out of
/// which no trial gave a reduction. The result must live as long as the figure.
/// @throws InputError if no farm is left.
PanelFigure coverage_panels(const AuditResult& result);

/// One panel for each criterion and method: against the true efficacy, the mean share of the trials
/// given each class, each farm counting the same, and the class that the true efficacy itself would
/// be given. The methods shown are the posteriors, the bootstrap by BCa, the log ratios and any
/// that a criterion demands, or whichever there are if none of these was audited.
/// Rule::reduction_alone needs no method, so that one panel serves it. Farms are left out of which
/// no trial gave a reduction. The result must live as long as the figure.
/// @throws InputError if the design has no farm left, or there is no criterion or no method.
PanelFigure verdict_panels(const AuditResult& result, Design design);

/// coverage_panels() and verdict_panels(), each as one SVG document.
/// @throws InputError as these do.
std::string coverage_figure(const AuditResult& result);
std::string verdict_figure(const AuditResult& result, Design design);

} // namespace eggfall
