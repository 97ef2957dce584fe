#pragma once

#include "eggfall/survey/survey.hpp"
#include "eggfall/survey/survey_row.hpp"
#include "statistics/region_law.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

// What a survey's farms are like together (docs/methods.md, "A region's farms").
namespace eggfall {

/// The fields by which groups are told apart in Survey::heard.
inline constexpr std::array heard_by{SurveyField::drug_class, SurveyField::host, SurveyField::year};

/// Where a row is heard, and its likelihood; nothing if the fall is not the drench's own, or no egg
/// was counted to compare with.
std::optional<std::pair<Stratum, std::array<std::int32_t, 3>>> heard_of(const SurveyRow& row);

/// Groups of one class and host that are heard together.
struct HeardTogether {
  std::string drug_class; ///< "BZ"; empty if not given.
  std::string host;       ///< Empty if not given.
  RegionTally tally;
};

/// By class and host, of all years together; without those of fewer than five groups, of whom the
/// prior would say more than they do.
std::vector<HeardTogether> heard_together(const Survey& survey);

/// How many of the groups tested truly lie below an efficacy, and the chance that one more farm
/// would.
struct BelowThreshold {
  double efficacy = 0;
  GroupsBelow groups;
  double new_farm = 0;
};

struct RegionPicture {
  /// Of all limits: those at 90% hold less often than they say where farms lie close to a
  /// threshold.
  static constexpr double level = 0.95;
  static constexpr std::array thresholds{0.90, 0.95};

  std::string drug_class;
  std::string host;
  std::uint64_t groups = 0;
  MedianAndLimits median;   ///< Efficacy that half of the farms exceed.
  MedianAndLimits new_farm; ///< Of one more farm.
  std::array<BelowThreshold, thresholds.size()> below;
};

/// By RegionLaw. Takes some tenths of a second.
RegionPicture picture_of(const HeardTogether& together);

/// "BZ, sheep"
std::string picture_name(const RegionPicture& picture);

} // namespace eggfall
