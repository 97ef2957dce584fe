#include "cli/cell_option_name.hpp"

#include <algorithm>

namespace eggfall::cli {

std::string cell_option_name(const CellField& field) {
  std::string name(field.key.substr(0, field.key.find("_percent")));
  std::ranges::replace(name, '_', '-');
  return "--" + name;
}

} // namespace eggfall::cli
