#include "base/date.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cstddef>
#include <system_error>

namespace eggfall {

using std::chrono::year_month_day;

std::optional<year_month_day> parse_date(std::string_view text) {
  int year = 0;
  unsigned month = 0;
  unsigned day = 0;
  const auto digits = [&](std::size_t from, std::size_t size, auto& value) {
    const char* const first = text.data() + from;
    const auto [end, error] = std::from_chars(first, first + size, value);
    return error == std::errc{} && end == first + size;
  };
  constexpr std::string_view pattern = "YYYY-MM-DD";
  if (text.size() != pattern.size() || text[4] != '-' || text[7] != '-' || !digits(0, 4, year) ||
      !digits(5, 2, month) || !digits(8, 2, day))
    return std::nullopt;
  const year_month_day date{std::chrono::year(year), std::chrono::month(month),
                            std::chrono::day(day)};
  return date.ok() && year >= first_year && year <= last_year ? std::optional(date) : std::nullopt;
}

std::string iso_date(const year_month_day& date) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

std::string date_in_words(const year_month_day& date) {
  constexpr std::array<std::string_view, 7> days{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  constexpr std::array<std::string_view, 12> months{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  const std::chrono::weekday weekday{std::chrono::sys_days(date)};
  return fmt::format("{} {} {} {}", days[weekday.c_encoding()], static_cast<unsigned>(date.day()),
                     months[static_cast<unsigned>(date.month()) - 1],
                     static_cast<int>(date.year()));
}

} // namespace eggfall
