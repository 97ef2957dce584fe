#pragma once

#include "base/problems.hpp"
#include "eggfall/trial/trial.hpp"

#include <cstddef>
#include <set>
#include <string>
#include <utility>

namespace eggfall {

/// Whether the group of the setting control came in any trial of a table.
class ControlOption {
public:
  explicit ControlOption(std::string group) : group_(std::move(group)) {}

  void look_in(const Trial& trial);

  /// A group that never came is a problem.
  void check(Problems& problems) const;

private:
  static constexpr std::size_t most_listed = 100;

  std::string group_;
  bool seen_ = false;
  std::set<std::string> others_;
};

} // namespace eggfall
