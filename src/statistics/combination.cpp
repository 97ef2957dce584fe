#include "eggfall/statistics/combination.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <utility>

namespace eggfall {
namespace {

using Parts = std::vector<const DrenchLaw*>;

bool agree(const std::string& a, const std::string& b) {
  return a.empty() || b.empty() || a == b;
}

/// The groups that were given this class alone, in animals like the combination's.
Parts alone(DrugClass drug_class, const DrenchLaw& combination,
            const std::vector<DrenchLaw>& drenches) {
  Parts found;
  for (const DrenchLaw& drench : drenches)
    if (drench.classes == std::vector{drug_class} && agree(drench.host, combination.host) &&
        agree(drench.worm, combination.worm))
      found.push_back(&drench);
  return found;
}

/// Why no number can be given; empty if it can.
std::string obstacle(const DrenchLaw& combination, const Parts& parts) {
  Parts all = parts;
  all.push_back(&combination);
  for (const DrenchLaw* drench : all) {
    if (!drench->law || !drench->reduction)
      return fmt::format("{} has nothing to compare with: {}", drench->group,
                         drench->law.why_not());
    if (drench->design != combination.design)
      return fmt::format("{} was measured by the {} design and {} by the {} design", drench->group,
                         to_string(*drench->design), combination.group,
                         to_string(*combination.design));
  }
  return {};
}

/// The law of the parts' product, in which each of `parts` holds the season once, with all seasons
/// but one taken out of each witness.
GuardedLaw in_one_season(const GuardedLaw& product, const LogRatioDensity& season,
                         std::size_t parts) {
  const LogRatioDensity too_many = scaled(season, static_cast<double>(parts - 1));
  return product.changed([&](const LogRatioDensity& law) { return difference(law, too_many); });
}

Combination::Expected expected_of(const DrenchLaw& combination, const Parts& parts,
                                  const std::optional<LogRatioDensity>& season, double level) {
  double left = 1;
  GuardedLaw expected = *parts.front()->law;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    left *= 1 - *parts[i]->reduction;
    if (i > 0)
      expected = sum(expected, *parts[i]->law);
  }
  const bool shared_control = combination.design != Design::paired;
  if (season && combination.design == Design::paired) {
    const double seasons = static_cast<double>(parts.size() - 1);
    left /= std::exp(seasons * season->quantile(0.5).value);
    expected = in_one_season(expected, *season, parts.size());
  }
  Combination::Expected result{1 - left, expected.limits(level), {}};
  if (shared_control)
    result.ratio =
        WhyNot{"the parts share one control group, whose luck would be counted too little"};
  constexpr std::size_t most_cautious_parts = 3; // see Combination::Expected::found_is_better
  if (!shared_control || parts.size() <= most_cautious_parts) {
    const GuardedLaw beyond = difference(*combination.law, expected);
    result.found_is_better = {beyond.probability_below(1),
                              beyond.posterior().probability_below(1).error};
  }
  return result;
}

} // namespace

std::vector<Combination> find_combinations(const std::vector<DrenchLaw>& drenches,
                                           const std::optional<LogRatioDensity>& season,
                                           double level) {
  check_level(level);
  std::vector<Combination> combinations;
  for (const DrenchLaw& drench : drenches) {
    if (drench.classes.size() < 2)
      continue;
    std::vector<Combination::Part> named_parts;
    Parts parts;
    bool every_part = true;
    std::string why_not;
    for (const DrugClass drug_class : drench.classes) {
      const Parts found = alone(drug_class, drench, drenches);
      every_part = every_part && !found.empty();
      for (const DrenchLaw* part : found) {
        parts.push_back(part);
        named_parts.push_back({drug_class, part->group});
      }
      if (found.size() > 1 && why_not.empty())
        why_not =
            fmt::format("{} alone was given to {} groups", to_string(drug_class), found.size());
    }
    if (!every_part)
      continue;
    if (why_not.empty())
      why_not = obstacle(drench, parts);
    OrReason<Combination::Expected> expected = WhyNot{why_not};
    if (why_not.empty())
      expected = expected_of(drench, parts, season, level);
    combinations.push_back({drench.group, std::move(named_parts), level, drench.reduction,
                            drench.headline, std::move(expected)});
  }
  return combinations;
}

} // namespace eggfall
