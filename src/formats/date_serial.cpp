#include "formats/date_serial.hpp"

#include "base/date.hpp"

#include <chrono>
#include <cmath>
#include <cstddef>

namespace eggfall {

std::optional<std::string> date_of_serial(double serial, DateSystem system) {
  using namespace std::chrono;
  constexpr year_month_day last{year{9999}, December, day{31}};
  constexpr int never_was = 60;
  const bool old = system == DateSystem::from_1900;
  if (!(serial >= (old ? 1 : 0)) || serial > 1e7)
    return std::nullopt;
  const int count = static_cast<int>(std::floor(serial));
  if (old && count == never_was)
    return "1900-02-29";
  const sys_days zero = old ? sys_days{December / 30 / 1899} + days{count < never_was ? 1 : 0}
                            : sys_days{January / 1 / 1904};
  const sys_days date = zero + days{count};
  return date <= sys_days{last} ? std::optional(iso_date(year_month_day{date})) : std::nullopt;
}

bool is_date_format(unsigned id) {
  return (id >= 14 && id <= 22) || (id >= 27 && id <= 36) || (id >= 45 && id <= 47) ||
         (id >= 50 && id <= 58);
}

bool is_date_format(const std::string& code) {
  for (std::size_t i = 0; i < code.size(); ++i) {
    const char c = code[i];
    if (c == '"' || c == '[') { // a text, or a colour, condition, locale or length of time
      i = code.find(c == '"' ? '"' : ']', i + 1);
      if (i == std::string::npos)
        return false;
    } else if (c == '\\' || c == '_' || c == '*') {
      ++i; // the next character stands for itself
    } else if (std::string_view("dmyDMY").find(c) != std::string_view::npos) {
      return true;
    }
  }
  return false;
}

} // namespace eggfall
