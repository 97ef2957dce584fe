#include "manual/brief.hpp"

#include <algorithm>

namespace eggfall::manual {

std::string brief(const std::string& text) {
  return text.substr(0, std::min(text.find(" ("), text.find(';')));
}

} // namespace eggfall::manual
