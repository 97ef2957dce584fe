#include "judgement/known_drench.hpp"

#include "judgement/field_practice.hpp"

#include <algorithm>

namespace eggfall {

KnownDrench::KnownDrench(const std::vector<DrugClass>& given, std::string_view words)
    : named_(substances_in(words)), classes_(given) {
  for (const Substance& substance : named_)
    if (substance.drug_class)
      classes_.push_back(*substance.drug_class);
}

std::optional<Substance> KnownDrench::only_of(SubstanceKind kind) const {
  const bool all =
      std::ranges::all_of(named_, [&](const Substance& each) { return each.kind == kind; });
  return all && !named_.empty() ? std::optional(named_.front()) : std::nullopt;
}

bool KnownDrench::may_be_macrocyclic_lactone() const {
  return is_unknown() || std::ranges::find(classes_, DrugClass::ml) != classes_.end();
}

int KnownDrench::first_day() const {
  return all_classes_among({DrugClass::lv, DrugClass::pyr})
             ? field_practice().first_day_short_acting
             : field_practice().first_day;
}

int KnownDrench::first_day_to_be_good() const {
  return may_be_macrocyclic_lactone() ? field_practice().first_day_macrocyclic_lactone
                                      : first_day();
}

bool KnownDrench::all_classes_among(std::initializer_list<DrugClass> some) const {
  return !classes_.empty() && std::ranges::all_of(classes_, [&](DrugClass each) {
    return std::ranges::find(some, each) != some.end();
  });
}

} // namespace eggfall
