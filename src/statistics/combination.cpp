#include "eggfall/statistics/combination.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

using Parts = std::vector<const DrenchPosterior*>;

bool agree(const std::string& a, const std::string& b) {
  return a.empty() || b.empty() || a == b;
}

/// The groups that were given this class alone, in animals like the combination's.
Parts alone(DrugClass drug_class, const DrenchPosterior& combination,
            const std::vector<DrenchPosterior>& drenches) {
  Parts found;
  for (const DrenchPosterior& drench : drenches)
    if (drench.classes == std::vector{drug_class} && agree(drench.host, combination.host) &&
        agree(drench.worm, combination.worm))
      found.push_back(&drench);
  return found;
}

/// Why no number can be given; empty if it can.
std::string obstacle(const DrenchPosterior& combination, const Parts& parts) {
  Parts all = parts;
  all.push_back(&combination);
  for (const DrenchPosterior* drench : all) {
    if (!drench->density || !drench->reduction)
      return fmt::format("{} has nothing to compare with: {}", drench->group, drench->why_not);
    if (drench->design != combination.design)
      return fmt::format("{} was measured by the {} design and {} by the {} design", drench->group,
                         to_string(*drench->design), combination.group,
                         to_string(*combination.design));
  }
  return {};
}

void compare(Combination& result, const DrenchPosterior& combination, const Parts& parts) {
  double left = 1;
  LogRatioDensity expected = *parts.front()->density;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    left *= 1 - *parts[i]->reduction;
    if (i > 0)
      expected = sum(expected, *parts[i]->density);
  }
  result.expected = 1 - left;
  const bool shared_control = combination.design != Design::paired;
  result.expected_ratio =
      shared_control
          ? no_limits("the parts share one control group, whose luck would be counted too little")
          : expected.limits(result.level);
  constexpr std::size_t most_cautious_parts = 3; // see Combination::better_than_expected
  if (!shared_control || parts.size() <= most_cautious_parts)
    result.better_than_expected = difference(*combination.density, expected).probability_below(1);
}

} // namespace

std::vector<Combination> find_combinations(const std::vector<DrenchPosterior>& drenches,
                                           double level) {
  check_level(level);
  std::vector<Combination> combinations;
  for (const DrenchPosterior& drench : drenches) {
    if (drench.classes.size() < 2)
      continue;
    Combination result;
    result.group = drench.group;
    result.level = level;
    result.reduction = drench.reduction;
    result.headline = drench.headline;
    Parts parts;
    bool every_part = true;
    for (const DrugClass drug_class : drench.classes) {
      const Parts found = alone(drug_class, drench, drenches);
      every_part = every_part && !found.empty();
      for (const DrenchPosterior* part : found) {
        parts.push_back(part);
        result.parts.push_back({drug_class, part->group});
      }
      if (found.size() > 1 && result.why_not.empty())
        result.why_not =
            fmt::format("{} alone was given to {} groups", to_string(drug_class), found.size());
    }
    if (!every_part)
      continue;
    if (result.why_not.empty())
      result.why_not = obstacle(drench, parts);
    if (result.why_not.empty())
      compare(result, drench, parts);
    combinations.push_back(std::move(result));
  }
  return combinations;
}

} // namespace eggfall
