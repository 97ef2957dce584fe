#include "eggfall/statistics/ranking.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

using Ranked = std::vector<const DrenchLaw*>;

bool uses_control(const DrenchLaw* drench) {
  return drench->design != Design::paired;
}

/// Whether two of `drenches` differ in the `field`; an empty text agrees with any.
bool differ(const Ranked& drenches, std::string DrenchLaw::*field) {
  const auto given = std::ranges::find_if(
      drenches, [&](const DrenchLaw* drench) { return !(drench->*field).empty(); });
  return std::any_of(given, drenches.end(), [&](const DrenchLaw* drench) {
    return !(drench->*field).empty() && drench->*field != (*given)->*field;
  });
}

/// A drench with its law by each witness, on grids that may be convolved.
struct Contestant {
  const DrenchLaw* drench;
  std::vector<LogRatioDensity> by_witness;
};

std::vector<Contestant> contestants(const Ranked& drenches) {
  std::vector<Contestant> result;
  for (const DrenchLaw* drench : drenches) {
    result.push_back({drench, {}});
    for (const Witness witness : all_witnesses)
      result.back().by_witness.push_back(drench->law->law_of(witness));
  }
  return result;
}

/// The least chance, over the witnesses, that no other drench leaves a rho lower by more than
/// `margin`.
Quadrature chance_none_lower(const Contestant& contestant, const std::vector<Contestant>& all,
                             double margin) {
  Quadrature least{1, 0};
  for (std::size_t witness = 0; witness < all_witnesses.size(); ++witness) {
    std::vector<const LogRatioDensity*> others;
    for (const Contestant& other : all)
      if (other.drench != contestant.drench)
        others.push_back(&other.by_witness[witness]);
    const Quadrature chance = contestant.by_witness[witness].probability_none_lower(others, margin);
    if (chance.value < least.value)
      least = chance;
  }
  return least;
}

RankedGroup ranked(const Contestant& contestant, const std::vector<Contestant>& all) {
  return {contestant.drench->group, *contestant.drench->design,
          chance_none_lower(contestant, all, 0),
          chance_none_lower(contestant, all, close_efficacies)};
}

RankedPair pair_of(const DrenchLaw& first, const DrenchLaw& second, double level) {
  const GuardedLaw log_ratio = difference(*first.law, *second.law);
  return {first.group,
          second.group,
          {log_ratio.probability_below(1), log_ratio.posterior().probability_below(1).error},
          log_ratio.limits(level)};
}

} // namespace

Ranking rank_drenches(const std::vector<DrenchLaw>& drenches, double level) {
  check_level(level);
  Ranking ranking;
  ranking.level = level;
  Ranked all;
  for (const DrenchLaw& drench : drenches)
    if (drench.law)
      all.push_back(&drench);
  std::string why_none;
  if (all.size() < 2)
    why_none = "no other group can be compared with it";
  else if (all.size() > most_ranked_groups)
    why_none = fmt::format("more than {} groups of one trial are not ranked", most_ranked_groups);
  for (const DrenchLaw& drench : drenches)
    if (!drench.law || !why_none.empty())
      ranking.left_out.push_back({drench.group, drench.law ? why_none : drench.law.why_not()});
  if (!why_none.empty())
    return ranking;

  struct Place {
    const DrenchLaw* drench;
    RankedGroup group;
  };
  std::vector<Place> places;
  const std::vector<Contestant> everyone = contestants(all);
  for (const Contestant& each : everyone)
    places.push_back({each.drench, ranked(each, everyone)});
  std::ranges::stable_sort(places, std::ranges::greater{},
                           [](const Place& place) { return place.group.best.value; });
  ranking.cannot_tell = 1;
  for (std::size_t i = 0; i < places.size(); ++i) {
    ranking.groups.push_back(places[i].group);
    ranking.cannot_tell -= places[i].group.best.value;
    for (std::size_t j = i + 1; j < places.size(); ++j)
      ranking.pairs.push_back(pair_of(*places[i].drench, *places[j].drench, level));
  }
  ranking.shared_control = std::ranges::count_if(all, uses_control) > 1;
  ranking.designs_differ = std::ranges::any_of(
      all, [&](const DrenchLaw* drench) { return drench->design != all.front()->design; });
  ranking.animals_differ = differ(all, &DrenchLaw::host) || differ(all, &DrenchLaw::worm);
  return ranking;
}

} // namespace eggfall
