#pragma once

#include "eggfall/base/error.hpp"

#include <string>
#include <vector>

namespace eggfall {

/// A key of a Layout and the value for it: dates, day-first.
struct LayoutSetting {
  std::string key;
  std::string value;
};

/// One way to answer a question about a table.
struct LayoutAnswer {
  std::vector<LayoutSetting> settings; ///< All of them together.
  std::string means;                   ///< In words; empty if the values say it.
};

/// An answer of one setting.
LayoutAnswer answer(std::string key, std::string value, std::string means = {});

/// The setting where it stands in a sentence. @throws CalculationError for a key of none.
Mention mention_of(const LayoutSetting& setting);

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
