#include "trial/visits.hpp"

#include <algorithm>
#include <chrono>
#include <set>

namespace eggfall {

std::vector<int> visit_days(const Group& group) {
  std::set<int> days;
  for (const Animal& animal : group.animals)
    for (const Visit& visit : animal.visits)
      days.insert(visit.day);
  return {days.begin(), days.end()};
}

bool has_own_after(const Group& group) {
  return !group.day_after && std::ranges::any_of(group.animals, [](const Animal& animal) {
    return animal.after || std::ranges::any_of(animal.kinds, [](const auto& kind) {
             return kind.second.after.has_value();
           });
  });
}

Group on_visit(const Group& group, int day) {
  Group result = group;
  result.day_after = day;
  for (Animal& animal : result.animals) {
    const auto visit = std::ranges::find(animal.visits, day, &Visit::day);
    animal.after.reset();
    animal.repeats_after.clear();
    animal.date_after.reset();
    animal.days_after.reset();
    if (visit == animal.visits.end())
      continue;
    animal.after = visit->count;
    animal.repeats_after = visit->repeats;
    if (animal.date_treated)
      animal.date_after = std::chrono::sys_days(*animal.date_treated) + std::chrono::days(day);
  }
  return result;
}

} // namespace eggfall
