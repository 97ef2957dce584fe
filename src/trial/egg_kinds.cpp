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
  result.culture_before = {};
  result.culture_after = {};
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

namespace {

/// Percentages may sum to a trifle more than 100: none of the rest may be more than all of it.
void leave_out(Culture& culture, double larvae) {
  const double total = std::max(0.0, culture.percentages->total - larvae);
  culture.percentages->total = total;
  for (WormLarvae& each : culture.worms) {
    each.larvae = std::min(each.larvae, total);
    if (each.open)
      each.open = LarvaeRange{std::min(each.open->least, total), std::min(each.open->most, total)};
  }
}

} // namespace

Group without_larvae_of(const Group& group, const std::vector<std::string>& kinds) {
  Group rest;
  rest.host = group.host;
  rest.classes = group.classes;
  rest.culture_before = group.culture_before;
  rest.culture_after = group.culture_after;
  for (Culture* culture : {&rest.culture_before, &rest.culture_after}) {
    double left_out = 0;
    for (const std::string& kind : kinds)
      left_out += larvae_of(*culture, kind);
    std::erase_if(culture->worms, [&](const WormLarvae& each) {
      return std::ranges::find(kinds, each.worm) != kinds.end();
    });
    if (culture->percentages && left_out > 0)
      leave_out(*culture, left_out);
  }
  return rest;
}

} // namespace eggfall
