#pragma once

#include "intake/table_words.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// Dates as people write them, whose order of day and month may be known only from other dates of
/// the table.
namespace eggfall {

enum class DateOrder { day_first, month_first };

/// "day first", "month first"
std::string_view to_string(DateOrder order);

/// What a cell says, by either order: at least one is a date. Both are, and are the same, where the
/// order does not matter: "2031-05-03", "3 May 2031", "3.5.2031", "3/3/2031".
struct WrittenDate {
  std::optional<std::chrono::year_month_day> day_first;
  std::optional<std::chrono::year_month_day> month_first;

  /// Nothing if it is no date in that order.
  std::optional<std::chrono::year_month_day> in(DateOrder order) const;

  /// Both are dates, of two days.
  bool order_matters() const;
};

/// The date that the whole of a text is, between first_year and last_year; nothing for anything
/// else, such as a date without its year, a 31 April, or a number alone.
///
/// Known are: the year first (2031-05-03, 2031/5/3); three numbers parted by strokes or hyphens, in
/// either order (3/5/2031, 03-05-31), or by dots, which are day first everywhere (practice); and a
/// month by name in `words` (3rd May 2031, May 3, 2031, 3-May-31, 3 de mayo de 2031). A day of the
/// week in front and a time of the day behind are passed over. Two digits of a year are 2000 to
/// 2079 or 1980 to 1999 (practice).
std::optional<WrittenDate> written_date(std::string_view text, const TableWords& words);

/// A day of a year that is not told, by either order: "30 April", "30.4.", "5/30". At least one is
/// a day.
struct YearlessDate {
  std::optional<std::chrono::month_day> day_first;
  std::optional<std::chrono::month_day> month_first;

  /// Nothing if it is no day in that order.
  std::optional<std::chrono::month_day> in(DateOrder order) const;

  bool operator==(const YearlessDate&) const = default;
};

/// The day that the whole of a text is, without a year: a number and a month by name, two numbers
/// parted by a stroke, or by dots with the day first ("30.4.", "30.04"), or by a hyphen where one
/// of them is no month ("5-30"). A month by name between two numbers may go with either ("1 May
/// 30").
std::optional<YearlessDate> yearless_date(std::string_view text, const TableWords& words);

/// How many days the second lies behind the first, in less than a year: one number, or one for each
/// order of day and month where no order is `said` and both are possible. In a year without 29
/// February, unless that is one of the two. None where no order fits both.
std::vector<int> days_from_to(const YearlessDate& from, const YearlessDate& to,
                              std::optional<DateOrder> said);

/// The part of a text that is a date as written_date() reads it, such as the head of a column, "EPG
/// 3/5/2031" or "EPG (28 Feb 2031)"; empty if none is. Beside other words and numbers, a month by
/// name takes a year of four digits, or one that marks join to it ("28-Feb-31"): in "Count 1 May
/// 30" there may be none.
std::string_view date_within(std::string_view text, const TableWords& words);

/// The same for yearless_date(). Ask for date_within() first: "28 Feb" is a part of "28 Feb 2031".
std::string_view yearless_within(std::string_view text, const TableWords& words);

/// Whether a month by name stands in a text.
bool names_month(std::string_view text, const TableWords& words);

/// A date with where it stands: "3/5/2031", "counts.csv:7".
struct PlacedDate {
  std::string text;
  std::string place;
};

/// Which order of day and month all dates of a table, or of a column, allow.
class DateOrders {
public:
  void add(const WrittenDate& date, std::string text, std::string place);

  /// The one order that every date allows; day first if the order matters to none. Nothing if the
  /// dates allow both, or contradict one another.
  std::optional<DateOrder> agreed() const;

  /// The first date that is one in that order alone; null if none is.
  const PlacedDate* only_in(DateOrder order) const;

  /// Whether the order matters to any date.
  bool matters() const { return either_ || day_first_alone_ || month_first_alone_; }

  /// Where the dates allow both orders and it matters: the first to which it does. Null otherwise.
  const PlacedDate* undecided() const;

  /// Where they contradict one another: the first that is a date with the day first alone, and the
  /// first with the month first alone. Nothing otherwise.
  std::optional<std::pair<PlacedDate, PlacedDate>> contradiction() const;

private:
  std::optional<PlacedDate> day_first_alone_;
  std::optional<PlacedDate> month_first_alone_;
  std::optional<PlacedDate> either_;
};

} // namespace eggfall
