#include "survey/region_picture.hpp"

#include "eggfall/base/error.hpp"
#include "statistics/trial_likelihood.hpp"

#include <algorithm>
#include <map>

namespace eggfall {
namespace {

constexpr std::uint64_t fewest_groups = 5;

void add_heard(RegionTally& tally, const HeardLikelihoods& heard) {
  for (const auto& [curve, times] : heard)
    tally.add(HeardLikelihood{curve[0], curve[1], curve[2]}, times);
}

std::vector<HeardTogether> large_enough(const std::map<Stratum, RegionTally>& tallies) {
  std::vector<HeardTogether> together;
  for (const auto& [stratum, tally] : tallies)
    if (tally.groups() >= fewest_groups)
      together.push_back({stratum[0], stratum[1], tally});
  return together;
}

} // namespace

std::optional<std::pair<Stratum, std::array<std::int32_t, 3>>> heard_of(const SurveyRow& row) {
  if (!is_drenchs_own_fall(row))
    return std::nullopt;
  try {
    const HeardLikelihood heard = TrialLikelihood(*row.dated.counts).heard();
    Stratum stratum;
    for (const SurveyField field : heard_by)
      stratum.push_back(value_of(field, row.group));
    return std::pair(stratum, std::array{heard.width, heard.place, heard.skew});
  } catch (const CalculationError&) {
    return std::nullopt; // it says nothing of the drench, and one odd group must not end a survey
  }
}

std::vector<HeardTogether> heard_together(const Survey& survey) {
  std::map<Stratum, RegionTally> tallies;
  for (const auto& [stratum, heard] : survey.heard)
    add_heard(tallies[{stratum[0], stratum[1]}], heard);
  return large_enough(tallies);
}

RegionPicture picture_of(const HeardTogether& together) {
  const RegionLaw law(together.tally);
  RegionPicture picture;
  picture.drug_class = together.drug_class;
  picture.host = together.host;
  picture.groups = together.tally.groups();
  picture.median = law.median_efficacy(RegionPicture::level);
  picture.new_farm = law.new_farm(RegionPicture::level);
  for (std::size_t t = 0; t < picture.below.size(); ++t) {
    const double efficacy = RegionPicture::thresholds[t];
    picture.below[t] = {efficacy, law.groups_below(efficacy, RegionPicture::level),
                        law.new_farm_below(efficacy)};
  }
  return picture;
}

std::string picture_name(const RegionPicture& picture) {
  const std::string name = picture.drug_class.empty() ? "no class given" : picture.drug_class;
  return picture.host.empty() ? name : name + ", " + picture.host;
}

} // namespace eggfall
