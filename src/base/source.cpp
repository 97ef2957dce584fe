#include "eggfall/base/source.hpp"

#include "base/cell_reference.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"

#include <fmt/format.h>

namespace eggfall {

std::string Source::shown() const {
  return is_sheet() ? fmt::format("{}, sheet {}", without_controls(name), in_quotes(sheet))
                    : without_controls(name);
}

std::string Source::line(std::size_t number) const {
  return fmt::format("{} {}", is_sheet() ? "row" : "line", number);
}

std::string Source::column(std::size_t number) const {
  return is_sheet() ? "column " + column_letters(number) : fmt::format("column {}", number);
}

} // namespace eggfall
