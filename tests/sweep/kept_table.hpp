#pragma once

#include "luck.hpp"

#include "intake/table_files.hpp"

#include "eggfall/trial/trial.hpp"

#include <string>
#include <vector>

/// A trial as somebody keeps it, and what its owner would answer if asked.
struct KeptTable {
  std::string form; ///< In words.
  std::vector<eggfall::TableBytes> tables;
  eggfall::ReadOptions options;
  std::vector<eggfall::LayoutSetting> answers; ///< One a key at most.
  bool in_order = true;                        ///< Rows stand as in the trial.
  bool in_utf_8 = true;
};

/// Writes a trial down: in our own words and order, or with columns in another order, other words,
/// separators, encodings, an .ods workbook, EPG in place of eggs, days first, titles above, or one
/// row a sample. Columns and rows say the same as counts_table() of the trial.
KeptTable kept_table(const eggfall::Trial& trial, const std::string& host, Luck& luck);
