#pragma once

#include "eggfall/plan/plan.hpp"

#include <cstddef>
#include <string>

namespace eggfall {

/// An SVG document with a row of panels for each design and way of counting: the chance that the
/// drench is called susceptible, that it is called resistant or low resistant, and that there is no
/// clear answer, against its true efficacy by one of PlanAim::criteria; one curve a group size.
std::string plan_figure(const Plan& plan, std::size_t criterion);

/// The plan as one self-contained HTML page, for screen and paper: advice, figures, a table of
/// sizes by counting methods shaded by the chance of a right answer, and what stands behind them.
std::string plan_report(const Plan& plan);

} // namespace eggfall
