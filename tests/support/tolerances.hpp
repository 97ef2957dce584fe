#pragma once

/// How near is near enough, by what stands between a number and the one that it is compared with. A
/// test takes the name of its reason; one with a reason of its own says it beside the number.
namespace support {

/// The same sum or product in another order of its steps. A double has 16 digits, and some hundred
/// roundings take less than four of them.
inline constexpr double other_order = 1e-12;

/// Many steps, or a root found by halving: ten thousand roundings, or the step at which it ends.
inline constexpr double many_steps = 1e-9;

/// Closed forms agree with printed references to this, relative: those have ten digits and more.
inline constexpr double closed_form = 1e-8;

/// A fit by repeated steps against the same fit elsewhere (R), which ends at a step of its own.
inline constexpr double repeated_fit = 1e-6;

/// A density on its grid against the exact one, or another grid: the rules converge below a
/// millionth, a hundredth of the last digit that any result shows.
inline constexpr double on_a_grid = 1e-6;

/// Its tails and the sums over several groups, which add up errors of a grid.
inline constexpr double sums_of_grids = 1e-5;

/// Quantiles of what was convolved, mixed or enveloped on grids: interpolated between their points.
/// A hundredth of a percent, the last digit that any result shows, is 1e-4.
inline constexpr double between_grid_points = 1e-4;

/// Where both sides are interpolated so, or one is by brute force over a coarse grid.
inline constexpr double coarse_grid = 1e-3;

} // namespace support
