#include "trial/sum_rows.hpp"

#include "base/text.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <string_view>

namespace eggfall {
bool SumRows::takes(const RowCells& row, const std::vector<Column>& names) {
  constexpr std::size_t most_shown = 5;
  for (const Column& column : names) {
    const std::string_view cell = row.text(column);
    if (!is_sum_word(cell))
      continue;
    if (++count_ <= most_shown)
      shown_.push_back(fmt::format("{} ({})", row.name_of_line(row.line()), in_quotes(cell)));
    return true;
  }
  return false;
}

std::optional<std::string> SumRows::note(const Source& source) const {
  if (count_ == 0)
    return std::nullopt;
  const std::string more =
      count_ > shown_.size() ? fmt::format(" and {} more", count_ - shown_.size()) : "";
  return fmt::format("{}: passed over, as sums and means and no animals: {}{}", source.shown(),
                     fmt::join(shown_, ", "), more);
}

} // namespace eggfall
