#pragma once

#include "eggfall/judgement/caveat.hpp"

#include <string>
#include <vector>

namespace support {

/// Caveats in their order, each as "severity code: text".
inline std::vector<std::string> lines(const std::vector<eggfall::Caveat>& caveats) {
  std::vector<std::string> result;
  for (const eggfall::Caveat& caveat : caveats)
    result.push_back(std::string(to_string(caveat.severity)) + " " +
                     std::string(to_string(caveat.code)) + ": " + caveat.text);
  return result;
}

} // namespace support
