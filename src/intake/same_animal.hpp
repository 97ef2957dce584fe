#pragma once

#include "base/problems.hpp"
#include "eggfall/trial/trial.hpp"
#include "intake/layout.hpp"
#include "intake/raw_animals.hpp"
#include "intake/reading_log.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// What a cell of roles says, by a word for one or by yes and no; nothing if it is not known.
std::optional<Role> role_called(std::string_view text, const TableWords& words);

/// The columns that tell trials of one table apart: tags and groups of one are no other's.
inline constexpr std::array<std::string_view, 3> trial_marks{"trial", "farm", "year"};

/// The first of the trial_marks that two rows both tell, and tell otherwise; nothing if both may be
/// of one trial. An empty cell agrees with anything.
std::optional<std::string_view> mark_apart(const RawAnimal& a, const RawAnimal& b);

/// What several rows, or two sheets, say of one animal. One rule for both, since which of two texts
/// came first must never decide what a drench is judged by:
///
/// - A drench (a class, a dose, a day of treatment) that is named once and "none" or 0 otherwise is
///   the animal's, which is told: people write none beside the sample before it was given.
/// - Of two weights the one at the earlier sample counts, which is told: doses go by it.
/// - All else must be the same, as far as words for one thing are known.
class SameAnimal {
public:
  SameAnimal(const Layout& layout, std::optional<DateOrder> order, Problems& problems)
      : layout_(layout), order_(order), problems_(problems) {}

  /// Adds what a later sample's row says. What contradicts `own` is a problem, with both places.
  void add(RawAnimal& own, const std::string& name, RawCell said);

  void tell(const Source& source, ReadingLog& log) const;

private:
  bool say_one_thing(std::string_view name, const std::string& a, const std::string& b) const;

  const Layout& layout_;
  std::optional<DateOrder> order_;
  Problems& problems_;
  std::size_t weights_ = 0; ///< That differ from the animal's first.
  std::size_t drenched_ = 0;
  std::string drench_example_; ///< "none" and "ivermectin" for "1".
};

} // namespace eggfall
