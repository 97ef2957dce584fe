#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// Of the dates and years that a table may hold; what lies beyond is taken for a typing error.
inline constexpr int first_year = 1900;
inline constexpr int last_year = 2200;

inline constexpr int days_a_week = 7;

/// A date written YYYY-MM-DD, in the years above; nothing for anything else.
std::optional<std::chrono::year_month_day> parse_date(std::string_view text);

/// "2031-04-27"
std::string iso_date(const std::chrono::year_month_day& date);

/// "Sun 27 April 2031"
std::string date_in_words(const std::chrono::year_month_day& date);

} // namespace eggfall
