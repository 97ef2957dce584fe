#pragma once

#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

/// A culture of a larvae table, and what was counted in it.
struct CountedCulture {
  std::size_t group = 0; ///< Of the trial's groups.
  bool before = true;
  std::vector<eggfall::WormLarvae> worms; ///< What a perfect reader would make of the lines.
};

/// A larvae table as a laboratory might send it, beside what it counted.
struct LarvaeSheet {
  std::string table; ///< Empty: no culture was made.
  std::vector<CountedCulture> cultures;
  bool in_percent = false;
  bool number_told = false; ///< Of larvae told apart, beside percentages.
};

/// An invented trial with all that a table may say beside its counts.
struct FieldTrial {
  std::uint64_t number = 0;
  eggfall::Trial trial;
  std::string host; ///< Said by an option, for groups that say none.
  LarvaeSheet larvae;
  std::vector<std::string> traits; ///< What was done to it, in words.
};

/// Trial `number`, the same for the same seed. A quarter have a flaw of all_flaws(), which may bar
/// a judgement; the others have the counts of swept_trial(), and with luck several drenches by
/// name, other hosts and worms, dates near and far, doses for weights, visits, eggs told apart on
/// the slide. A tenth have larvae, counted or in percent.
FieldTrial field_trial(std::uint64_t seed, std::uint64_t number);
