#pragma once

#include "report/analysis_workbook.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace eggfall::web {

/// What the engine cannot do by itself, given by whoever runs it: the core knows no file, and no
/// page that waits.
struct Surroundings {
  /// The bytes of a workbook (.xlsx).
  std::function<std::string(const std::vector<ResultSheet>&)> workbook;
  /// So many steps of all are done.
  std::function<void(std::size_t done, std::size_t all)> progress;
};

} // namespace eggfall::web
