#pragma once

#include "eggfall/plan/plan.hpp"
#include "formats/drawing/captioned_figure.hpp"

#include <cstddef>
#include <vector>

// Chances as whole tests of 100, which are understood best.
namespace eggfall {

/// What becomes of 100 tests of one drench.
struct HundredTests {
  std::size_t right = 0;
  std::size_t misleading = 0; ///< They claim the opposite.
  std::size_t unclear = 0;    ///< All others.
};

/// Shares of 0 to 1, together 1 at most, rounded as tables round them; what they leave is unclear.
HundredTests hundred_tests(double right, double misleading);

/// 100 small signs, each a test, for each of the two questions of right_answers() by one criterion:
/// a drench that works, and one that fails. Solid is right, an outline cannot tell, a cross
/// misleads; how many of each stands beside the sign.
std::vector<CaptionedFigure> hundred_tests_figures(const PlannedOption& planned, const PlanAim& aim,
                                                   std::size_t criterion);

} // namespace eggfall
