#include "eggfall/statistics/ranking.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

using Ranked = std::vector<const DrenchPosterior*>;

bool uses_control(const DrenchPosterior* drench) {
  return drench->design != Design::paired;
}

/// Whether two of `drenches` differ in what `of` gives; an empty text agrees with any.
bool differ(const Ranked& drenches, std::string DrenchPosterior::*of) {
  const auto given = std::ranges::find_if(
      drenches, [&](const DrenchPosterior* drench) { return !(drench->*of).empty(); });
  return std::any_of(given, drenches.end(), [&](const DrenchPosterior* drench) {
    return !(drench->*of).empty() && drench->*of != (*given)->*of;
  });
}

RankedGroup ranked(const DrenchPosterior& drench, const Ranked& all) {
  std::vector<const LogRatioDensity*> others;
  for (const DrenchPosterior* other : all)
    if (other != &drench)
      others.push_back(&*other->density);
  return {drench.group, *drench.design, drench.density->probability_none_lower(others, 0),
          drench.density->probability_none_lower(others, close_efficacies)};
}

RankedPair pair_of(const DrenchPosterior& first, const DrenchPosterior& second, double level) {
  const LogRatioDensity log_ratio = difference(*first.density, *second.density);
  return {first.group, second.group, log_ratio.probability_below(1), log_ratio.limits(level)};
}

} // namespace

Ranking rank_drenches(const std::vector<DrenchPosterior>& drenches, double level) {
  check_level(level);
  Ranking ranking;
  ranking.level = level;
  Ranked all;
  for (const DrenchPosterior& drench : drenches)
    if (drench.density)
      all.push_back(&drench);
  std::string why_none;
  if (all.size() < 2)
    why_none = "no other group can be compared with it";
  else if (all.size() > most_ranked_groups)
    why_none = fmt::format("more than {} groups of one trial are not ranked", most_ranked_groups);
  for (const DrenchPosterior& drench : drenches)
    if (!drench.density || !why_none.empty())
      ranking.left_out.push_back({drench.group, drench.density ? why_none : drench.why_not});
  if (!why_none.empty())
    return ranking;

  struct Place {
    const DrenchPosterior* drench;
    RankedGroup group;
  };
  std::vector<Place> places;
  for (const DrenchPosterior* drench : all)
    places.push_back({drench, ranked(*drench, all)});
  std::ranges::stable_sort(places, std::ranges::greater{},
                           [](const Place& place) { return place.group.best.value; });
  for (std::size_t i = 0; i < places.size(); ++i) {
    ranking.groups.push_back(places[i].group);
    for (std::size_t j = i + 1; j < places.size(); ++j)
      ranking.pairs.push_back(pair_of(*places[i].drench, *places[j].drench, level));
  }
  ranking.shared_control = std::ranges::count_if(all, uses_control) > 1;
  ranking.designs_differ = std::ranges::any_of(
      all, [&](const DrenchPosterior* drench) { return drench->design != all.front()->design; });
  ranking.animals_differ =
      differ(all, &DrenchPosterior::host) || differ(all, &DrenchPosterior::worm);
  return ranking;
}

} // namespace eggfall
