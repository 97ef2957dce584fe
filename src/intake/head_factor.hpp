#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// A number in the head of a column of counts that reads as what one egg stands for.
struct HeadFactor {
  double value = 0;
  std::string text;  ///< As written.
  bool bare = false; ///< It stands alone in brackets, and may be a day or the number of a count.
};

/// Of "Eggs before (x15)", "EPG (factor 50)", "Eggs (DL 15)", "50x" or a bare "(15)"; the first
/// that a word or a mark tells goes before a bare one. Years and 0 are none.
std::optional<HeadFactor> factor_in_head(std::string_view head);

} // namespace eggfall
