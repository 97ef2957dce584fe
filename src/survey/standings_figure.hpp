#pragma once

#include "eggfall/survey/survey.hpp"
#include "formats/drawing/captioned_figure.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace eggfall {

/// Strata that the figures of one breakdown show; its table has them all.
inline constexpr std::size_t most_strata_drawn = 30;
inline constexpr std::size_t strata_of_a_figure = 15;

/// Those that are drawn: all; or those with most groups tested, and of as many those with the
/// larger share resistant. In the breakdown's order.
std::vector<Stratum> drawn_strata(const Breakdown& breakdown);

/// The stratum that most surely has a larger share of resistant groups than another, and that
/// other: the highest lower limit, and the lowest upper one. Empty where these two overlap, so that
/// nothing can be said of any two. The limits are Jeffreys's of the level 1 - 0.05/n for n strata
/// (Bonferroni), since of many the two that are farthest apart are so by luck.
std::optional<std::pair<Stratum, Stratum>> surely_apart(const Breakdown& breakdown);

/// What a breakdown shows, in a sentence.
std::string breakdown_finding(const Breakdown& breakdown);

/// The classes of each stratum as parts of a bar of all of its groups with a class, resistant
/// first; below it the share resistant with its limits. Several figures for more than
/// strata_of_a_figure. Without findings and keys, which stand around them all.
std::vector<CaptionedFigure> standings_figures(const Breakdown& breakdown, Rule rule);

/// How to read them.
std::string standings_key();

} // namespace eggfall
