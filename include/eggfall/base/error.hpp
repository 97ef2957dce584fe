#pragma once

#include "eggfall/base/source.hpp"

#include <cstddef>
#include <stdexcept>
#include <string>
#include <vector>

namespace eggfall {

/// One thing wrong with an input, told so that its owner can mend it.
struct Problem {
  Source source;           ///< Where the value came from.
  std::size_t line = 0;    ///< 1-based line, or row of a sheet; 0 when the whole source is meant.
  std::size_t column = 0;  ///< 1-based column; 0 when the whole line is meant.
  std::string column_name; ///< Header of that column, if there is one.
  std::string found;       ///< The offending text, quoted or described.
  std::string expected;    ///< What would have been accepted.

  /// "source:line: column N (name): found ...; expected ...", or, in a sheet,
  /// "source, sheet "Counts", C7 (name): found ...; expected ...".
  std::string message() const;
};

/// Input or options that the user can mend. The program exits with code 2.
class InputError : public std::runtime_error {
public:
  explicit InputError(const std::string& message) : std::runtime_error(message) {}
  /// `what()` holds one line a problem.
  explicit InputError(std::vector<Problem> problems);
  const std::vector<Problem>& problems() const noexcept { return problems_; }

private:
  std::vector<Problem> problems_;
};

/// A calculation that failed on acceptable input. The program exits with code 1.
class CalculationError : public std::runtime_error {
public:
  explicit CalculationError(const std::string& message) : std::runtime_error(message) {}
};

} // namespace eggfall
