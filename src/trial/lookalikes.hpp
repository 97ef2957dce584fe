#pragma once

#include "eggfall/base/source.hpp"

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace eggfall {

/// Finds names that a reader would take for one (look_of()), such as "w" and "W", though they are
/// two.
class Lookalikes {
public:
  void add(const std::string& name);

  /// Adds a note on the first few, if there are any; `what` they are, as "groups".
  void tell(std::string_view what, const Source& source, std::vector<std::string>& notes) const;

private:
  std::unordered_map<std::string, std::string> seen_; ///< The first of each look.
  std::vector<std::string> pairs_;
};

} // namespace eggfall
