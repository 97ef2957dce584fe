#include "eggfall/judgement/day_check.hpp"

#include "base/text.hpp"
#include "judgement/field_practice.hpp"
#include "trial/visits.hpp"

#include <algorithm>
#include <cstdlib>
#include <set>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

using std::chrono::sys_days;
using std::chrono::year_month_day;

int days_between(const year_month_day& from, const year_month_day& to) {
  return static_cast<int>((sys_days(to) - sys_days(from)).count());
}

/// Whether an animal was sampled on one day: whether it has a count of all eggs together (`all`) or
/// of any kind of egg that was counted apart.
bool was_sampled(const Animal& animal, const std::optional<Count>& all,
                 std::optional<Count> Samples::*of_kind) {
  return all || std::ranges::any_of(animal.kinds, [&](const auto& kind) {
           return (kind.second.*of_kind).has_value();
         });
}

void extend(std::optional<DateRange>& range, const std::optional<year_month_day>& date) {
  if (!date)
    return;
  if (!range)
    range = DateRange{*date, *date};
  range->first = std::min(range->first, *date);
  range->last = std::max(range->last, *date);
}

/// Both sources in one citation, with the weaker provenance of the two.
Citation joined(const Citation& a, const Citation& b) {
  const auto weakness = [](Provenance provenance) {
    return provenance == Provenance::memory ? 2 : provenance == Provenance::practice ? 1 : 0;
  };
  return {a.source + "; " + b.source,
          weakness(b.provenance) > weakness(a.provenance) ? b.provenance : a.provenance};
}

bool several_classes(const Trial& trial) {
  std::set<std::vector<DrugClass>> classes;
  for (const Group& group : trial.groups)
    if (group.role == Role::treated)
      classes.insert(group.classes);
  return classes.size() > 1;
}

/// Whether a second sample on `day` fits; the common day serves where classes are compared.
bool fits(int day, const UsualDays& usual) {
  return (usual.first_day <= day && day <= usual.last_day) ||
         (usual.drug_classes_compared && day == common_day());
}

} // namespace

int common_day() {
  return field_practice().day_of_several_classes;
}

int first_day_of_practice() {
  return field_practice().first_day;
}

int last_day_of_practice() {
  return field_practice().last_day;
}

UsualDays usual_days(const CutOffs& cut_offs, const Group& group, const Trial& trial) {
  UsualDays usual;
  usual.drug_classes_compared = several_classes(trial);
  bool any_window = false;
  for (const DrugClass drug_class : group.classes) {
    Group alone;
    alone.name = group.name;
    alone.host = group.host;
    alone.drench = group.drench;
    alone.classes = {drug_class};
    const SamplingWindow* window = window_for(cut_offs, alone);
    if (window == nullptr)
      continue;
    const Citation citation =
        any_window ? joined(usual.citation, window->citation) : window->citation;
    // The first window replaces the days of practice, and each further one narrows it.
    usual.first_day = any_window ? std::max(usual.first_day, window->first_day) : window->first_day;
    usual.last_day = any_window ? std::min(usual.last_day, window->last_day) : window->last_day;
    usual.citation = citation;
    usual.classes.push_back(drug_class);
    any_window = true;
  }
  if (any_window && usual.classes.size() < group.classes.size()) {
    usual.first_day = std::max(usual.first_day, first_day_of_practice());
    usual.last_day = std::min(usual.last_day, last_day_of_practice());
    usual.citation = joined(usual.citation, {"practice", Provenance::practice});
    usual.classes = group.classes;
  }
  if (usual.first_day > usual.last_day) {
    usual.no_day_in_common = true;
    usual.first_day = common_day();
    usual.last_day = common_day();
    usual.citation = {"usual advice where classes are compared together", Provenance::memory};
  }
  return usual;
}

std::optional<int> test_day(const Group& group, const UsualDays& usual) {
  const std::vector<int> days = visit_days(group);
  if (days.empty() || has_own_after(group))
    return std::nullopt;
  const auto off_the_usual = [&](int day) {
    return fits(day, usual) ? 0 : std::max(usual.first_day - day, day - usual.last_day);
  };
  int best = days.front();
  for (const int day : days) {
    // Visits on usual days all have the distance 0, so that the common day decides between them.
    const auto far = [&](int each) {
      return std::pair{off_the_usual(each),
                       off_the_usual(each) == 0 ? std::abs(each - common_day()) : 0};
    };
    if (far(day) <= far(best))
      best = day;
  }
  return best;
}

DayCheck check_days(const Group& group, const UsualDays& usual) {
  DayCheck check;
  check.usual = usual;
  for (const Animal& animal : group.animals) {
    AnimalDays days;
    extend(check.treatments, animal.date_treated);
    if (was_sampled(animal, animal.before, &Samples::before)) {
      extend(check.first_samples, animal.date_before);
      if (animal.date_before && animal.date_treated)
        days.before = days_between(*animal.date_before, *animal.date_treated);
    }
    if (was_sampled(animal, animal.after, &Samples::after)) {
      extend(check.second_samples, animal.date_after);
      if (animal.date_treated && animal.date_after)
        days.after = days_between(*animal.date_treated, *animal.date_after);
      else if (animal.days_after)
        days.after = animal.days_after;
      else if (group.day_after)
        days.after = group.day_after;
      else
        ++check.undated;
    }
    if (days.before)
      check.longest_before = std::max(check.longest_before.value_or(*days.before), *days.before);
    if (days.after) {
      check.first_day = std::min(check.first_day.value_or(*days.after), *days.after);
      check.last_day = std::max(check.last_day.value_or(*days.after), *days.after);
      if (!fits(*days.after, usual))
        ++(*days.after < usual.first_day ? check.early : check.late);
    }
    check.animals.push_back(days);
  }
  return check;
}

int days_apart(const DateRange& a, const DateRange& b) {
  return std::max(std::abs(days_between(a.first, b.first)), std::abs(days_between(a.last, b.last)));
}

int length_days(const DateRange& range) {
  return days_between(range.first, range.last);
}

std::optional<FirstTreated> first_treated(const Trial& trial) {
  std::optional<FirstTreated> first;
  for (const Group& group : trial.groups) {
    if (group.role != Role::treated)
      continue;
    for (const Animal& animal : group.animals)
      if (animal.date_treated && (!first || *animal.date_treated < first->date))
        first = FirstTreated{group.name, *animal.date_treated};
  }
  return first;
}

} // namespace eggfall
