#pragma once

#include "eggfall/trial/trial.hpp"
#include "intake/open_question.hpp"
#include "intake/understand.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

/// A trial, and the same trial as its owner might keep it: with words, cells, dates and a shape of
/// the table drawn at random.
struct UntidyTable {
  std::string combination;   ///< What was drawn, in words.
  eggfall::Trial trial;      ///< As reading should have it.
  bool names_animals = true; ///< Otherwise the reader has to name them, by their rows.
  std::vector<eggfall::TableBytes> tables;
  eggfall::ReadOptions options;
  /// What the tables leave open, and no more.
  std::vector<eggfall::LayoutSetting> answers;
};

/// Shapes of tables that untidy_table() knows.
extern const std::size_t untidy_shapes;

/// The same one for the same number. Shapes take turns, so that each comes up once in
/// `untidy_shapes` numbers; all else is drawn.
UntidyTable untidy_table(std::uint64_t seed, std::uint32_t number);
