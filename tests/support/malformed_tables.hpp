#pragma once

#include "eggfall/trial/read_trials.hpp"

#include <string>
#include <vector>

/// Every way we know to get a counts table wrong, and the exact words that follow.
struct MalformedTable {
  std::string name;
  std::string table;
  std::string message;
  eggfall::ReadOptions options;
};

const std::vector<MalformedTable>& malformed_tables();
