#pragma once

#include <optional>
#include <string>

namespace eggfall {

/// The day that a workbook counts its days from.
enum class DateSystem {
  from_1900, ///< 1 is 1900-01-01, and 60 a 29 February 1900 that never was.
  from_1904, ///< 0 is 1904-01-01.
};

/// "2031-04-27", the day of a date or a time of that day; "1900-02-29" for the one that never was.
/// Nothing for a number that is no date up to 9999-12-31.
std::optional<std::string> date_of_serial(double serial, DateSystem system);

/// Whether one of the built-in number formats of a workbook shows numbers as dates or times.
bool is_date_format(unsigned id);

/// The same for a format's code: whether it has a d, m or y that is no text of its own.
bool is_date_format(const std::string& code);

} // namespace eggfall
