#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

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

/// A number in a title or a note that reads as what one egg stands for.
struct NoteFactor {
  double value = 0;
  std::string text;     ///< As written.
  bool a_limit = false; ///< Of detection, which is often the factor, but need not be.
};

/// All of "Factor 50 before, 15 after", "1 egg = 15 epg", "15 EPG per egg"; and those that a mark
/// tells ("x15") where the text speaks of eggs or counts: "2 x" may be a dose, and no percentage is
/// a factor.
std::vector<NoteFactor> factors_in_note(std::string_view note);

} // namespace eggfall
