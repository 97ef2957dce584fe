#include "cli/farm_option_name.hpp"

#include <algorithm>

namespace eggfall::cli {

std::string farm_option_name(const FarmField& field) {
  std::string name(field.key.substr(0, field.key.find("_percent")));
  std::ranges::replace(name, '_', '-');
  return "--" + name;
}

} // namespace eggfall::cli
