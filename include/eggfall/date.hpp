#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// A date written YYYY-MM-DD, from 1900 on; nothing for anything else.
std::optional<std::chrono::year_month_day> parse_date(std::string_view text);

/// "2031-04-27"
std::string iso_date(const std::chrono::year_month_day& date);

/// "Sun 27 April 2031"
std::string date_in_words(const std::chrono::year_month_day& date);

} // namespace eggfall
