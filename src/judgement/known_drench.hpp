#pragma once

#include "eggfall/trial/trial.hpp"
#include "trial/drug_words.hpp"

#include <initializer_list>
#include <optional>
#include <string_view>
#include <vector>

namespace eggfall {

/// What is known of a group's drench by the classes given and the substances named, and what hangs
/// on that: whether a fall tells of these worms at all, and from which day on it tells anything.
class KnownDrench {
public:
  /// `words` are the drench's and the group's, in which substances are looked for.
  KnownDrench(const std::vector<DrugClass>& given, std::string_view words);

  /// The first substance named, if all substances named are of this kind, whatever class is given:
  /// a class may be a slip of the pen, or the chemist's (triclabendazole).
  std::optional<Substance> only_of(SubstanceKind kind) const;

  /// Neither class nor substance is known.
  bool is_unknown() const { return classes_.empty() && named_.empty(); }

  /// A drench of which nothing is known may be one, so that the days for these, which are the
  /// strictest, hold for it too.
  bool may_be_macrocyclic_lactone() const;

  /// From which day after treatment on a fall may show what the drench did.
  int first_day() const;

  /// From which day on a fall may earn a good class: not before a macrocyclic lactone's may.
  int first_day_to_be_good() const;

private:
  bool all_classes_among(std::initializer_list<DrugClass> some) const;

  std::vector<Substance> named_;
  /// Those given, and those of all substances named: where they contradict each other the stricter
  /// days hold. Empty if none is known.
  std::vector<DrugClass> classes_;
};

} // namespace eggfall
