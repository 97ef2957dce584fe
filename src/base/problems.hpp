#pragma once

#include "eggfall/base/error.hpp"

#include <cstddef>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace eggfall {

/// Collects problems up to the limit, then gives up on the whole table.
class Problems {
public:
  static constexpr std::size_t most = 20;

  /// @throws InputError with all problems if this is the last that is told.
  void add(Problem problem) {
    problems_.push_back(std::move(problem));
    if (problems_.size() == most)
      throw_if_any();
  }

  /// For what is wrong with every row alike: tells it the first time only.
  void add_once(const std::string& what, Problem problem) {
    if (told_.insert(what).second)
      add(std::move(problem));
  }

  /// For what nothing can be read beyond.
  /// @throws InputError with all problems.
  [[noreturn]] void give_up(Problem problem) {
    problems_.push_back(std::move(problem));
    throw InputError(problems_);
  }

  bool any() const { return !problems_.empty(); }

  void throw_if_any() const {
    if (any())
      throw InputError(problems_);
  }

private:
  std::vector<Problem> problems_;
  std::set<std::string> told_;
};

} // namespace eggfall
