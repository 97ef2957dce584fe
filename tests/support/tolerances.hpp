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

/// A reference of ten printed digits: half a unit in the last is 5e-10 of the number at most.
inline constexpr double ten_digits = 1e-9;

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

/// Quantiles of a sum or difference of two laws, of which one is interpolated to the other's steps.
inline constexpr double sum_of_two_laws = 2e-4;

/// Where both sides are interpolated so, or one is by brute force over a coarse grid.
inline constexpr double coarse_grid = 1e-3;

/// A share read back from a picture, where its scale is 1 wide: places are written with two
/// decimals, and shares that R printed have three, of which half of the last is 5e-4.
inline constexpr double read_from_picture = 1e-3;

} // namespace support
