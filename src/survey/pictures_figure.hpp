#pragma once

#include "eggfall/judgement/verdict_tally.hpp"
#include "eggfall/survey/survey.hpp"
#include "formats/drawing/captioned_figure.hpp"
#include "survey/region_picture.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace eggfall {

/// Pictures that are drawn; the table has all.
inline constexpr std::size_t most_pictures_drawn = 12;

/// How the groups of a picture stand one by one: those of a breakdown by class and host, or by
/// class where all groups are of one host. Empty where no breakdown tells just these apart.
std::optional<VerdictTally> tally_of(const Survey& survey, const RegionPicture& picture);

/// For each picture the share of its groups that truly lie below each threshold, with limits, and
/// below these the share resistant by the groups' own standings, on one scale.
/// @throws CalculationError if there is no picture.
CaptionedFigure pictures_figure(const Survey& survey, const std::vector<RegionPicture>& pictures);

/// How to read it.
std::string pictures_key();

} // namespace eggfall
