#pragma once

#include "eggfall/base/shard.hpp"
#include "eggfall/base/source.hpp"
#include "eggfall/survey/survey.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <set>
#include <string>

namespace eggfall {

/// A table of at most so many bytes, some 25,000 animals, may have been made by a person: it is
/// read whole, and may have any form. One that is larger was written by a program, and is read
/// piece by piece, in our own form.
inline constexpr std::size_t largest_kept_by_hand = std::size_t{1} << 20U;

struct NumberedTrial {
  std::uint64_t number = 0; ///< Among all trials of the tables, from 1.
  Trial trial;
};

/// The trials of a survey's tables as they are read, in the order of the tables.
class SurveyedTrials {
public:
  /// Memory grows with the names of the trials where there are `several_tables`.
  SurveyedTrials(Shard shard, bool several_tables)
      : shard_(shard), several_tables_(several_tables) {}

  /// The next trial with its number; nothing if another shard takes it.
  /// @throws InputError that names `table`, if an earlier one has the trial too.
  std::optional<NumberedTrial> take(Trial trial, const Source& table);

  const SurveySize& in_tables() const { return in_tables_; } ///< All so far.
  const SurveySize& taken() const { return taken_; }         ///< Those of the shard.

private:
  ShardOfTrials shard_;
  bool several_tables_;
  std::set<std::string> identities_;
  SurveySize in_tables_;
  SurveySize taken_;
};

} // namespace eggfall
