#pragma once

#include "eggfall/plan/plan.hpp"
#include "formats/drawing/captioned_figure.hpp"

#include <cstddef>
#include <vector>

namespace eggfall {

/// A figure for each design and way of counting, all on the same axes: against the true efficacy,
/// the chance that the drench is called susceptible (solid) and that it is called resistant or low
/// resistant (dashed) by one of PlanAim::criteria. A pair of lines for each group size, which
/// stands at their ends; those of the shown_option() are thick, the others grey.
std::vector<CaptionedFigure> chance_figures(const Plan& plan, std::size_t criterion);

} // namespace eggfall
