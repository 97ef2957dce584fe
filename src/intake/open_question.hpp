#pragma once

#include "eggfall/base/error.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// One way to answer a question about a table: a key of a Layout, and the value for it.
struct LayoutAnswer {
  std::string key;   ///< "dates"; on a command line it is the option --dates.
  std::string value; ///< "day-first".
  std::string means; ///< In words; empty if the value says it.
};

/// Two readings of a table are possible and lead to different results, so its owner is asked.
class OpenQuestion : public InputError {
public:
  /// `expected` of the place is left out: the answers are what is expected.
  OpenQuestion(Problem place, std::vector<LayoutAnswer> answers);

  const std::vector<LayoutAnswer>& answers() const noexcept { return answers_; }

private:
  std::vector<LayoutAnswer> answers_;
};

} // namespace eggfall
