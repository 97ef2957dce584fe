#include "trial/egg_kinds.hpp"

#include <algorithm>
#include <set>

namespace eggfall {

std::vector<std::string> kinds_told_apart(const Group& group) {
  std::set<std::string> kinds;
  for (const Animal& animal : group.animals)
    for (const auto& [kind, samples] : animal.kinds)
      kinds.insert(kind);
  return {kinds.begin(), kinds.end()};
}

Group of_kind(const Group& group, const std::string& kind) {
  Group result = group;
  result.worm = kind;
  result.culture_before.clear();
  result.culture_after.clear();
  for (Animal& animal : result.animals) {
    const auto found = animal.kinds.find(kind);
    const Samples samples = found == animal.kinds.end() ? Samples() : found->second;
    animal.before = samples.before;
    animal.after = samples.after;
    animal.repeats_before.clear();
    animal.repeats_after.clear();
    animal.visits.clear(); // which are of all eggs
    animal.kinds.clear();
  }
  return result;
}

Group without_larvae_of(const Group& group, const std::vector<std::string>& kinds) {
  Group rest;
  rest.host = group.host;
  rest.classes = group.classes;
  rest.culture_before = group.culture_before;
  rest.culture_after = group.culture_after;
  for (Culture* culture : {&rest.culture_before, &rest.culture_after})
    std::erase_if(*culture, [&](const WormLarvae& each) {
      return std::ranges::find(kinds, each.worm) != kinds.end();
    });
  return rest;
}

} // namespace eggfall
