#include "intake/day_words.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <tuple>
#include <vector>

namespace eggfall {
namespace {

using std::chrono::year_month_day;

/// A number of a date, or the month that a word names.
struct DatePart {
  enum class Kind { number, month } kind = Kind::number;
  int value = 0;
  std::size_t digits = 0;
};

constexpr std::size_t full_year = 4;

std::optional<year_month_day> real_date(const DatePart& year, int month, const DatePart& day) {
  constexpr int first_of_last_century = 80;
  int written = year.value;
  if (year.digits == 2)
    written += written < first_of_last_century ? 2000 : 1900;
  else if (year.digits != full_year)
    return std::nullopt;
  if (day.digits > 2)
    return std::nullopt;
  const year_month_day date{std::chrono::year(written),
                            std::chrono::month(static_cast<unsigned>(month)),
                            std::chrono::day(static_cast<unsigned>(day.value))};
  return date.ok() && written >= first_year && written <= last_year ? std::optional(date)
                                                                    : std::nullopt;
}

std::optional<year_month_day> real_date(const DatePart& year, const DatePart& month,
                                        const DatePart& day) {
  return month.digits <= 2 ? real_date(year, month.value, day) : std::nullopt;
}

std::optional<WrittenDate> in_either_order(const std::optional<year_month_day>& day_first,
                                           const std::optional<year_month_day>& month_first) {
  if (!day_first && !month_first)
    return std::nullopt;
  return WrittenDate{day_first, month_first};
}

/// Reads digits off the front of a text.
std::optional<int> take_digits(std::string_view& text, std::size_t least, std::size_t most) {
  int value = 0;
  std::size_t size = 0;
  for (; size < text.size() && text[size] >= '0' && text[size] <= '9'; ++size)
    if (size < most)
      value = 10 * value + (text[size] - '0');
  if (size < least || size > most)
    return std::nullopt;
  text.remove_prefix(size);
  return value;
}

bool take_any_of(std::string_view& text, std::string_view marks) {
  if (text.empty() || marks.find(text.front()) == std::string_view::npos)
    return false;
  text.remove_prefix(1);
  return true;
}

/// "10:30", "10:30:00.000", "9:05 am", "00:00:00z", "00:00:00+01:00"; in lower case.
bool is_time(std::string_view text) {
  constexpr int last_hour = 24;
  constexpr int last_minute = 59;
  constexpr int last_second = 60; // A leap second.
  const auto within = [&](int last) {
    const auto value = take_digits(text, 1, 2);
    return value && *value <= last;
  };
  if (!within(last_hour) || !take_any_of(text, ":") || !within(last_minute))
    return false;
  if (take_any_of(text, ":")) {
    constexpr std::size_t most_decimals = 9;
    if (!within(last_second) || (take_any_of(text, ".,") && !take_digits(text, 1, most_decimals)))
      return false;
  }
  text = trimmed(text);
  if (text.empty() || text == "z" || text == "am" || text == "pm" || text == "a.m." ||
      text == "p.m.")
    return true;
  if (!take_any_of(text, "+-") || !within(last_hour))
    return false;
  take_any_of(text, ":");
  return text.empty() || (within(last_minute) && text.empty());
}

/// Without a time of the day behind, parted by a blank or, as in "2031-05-03t00:00", by a t.
std::string_view without_time(std::string_view look) {
  const std::size_t colon = look.find(':');
  if (colon == std::string_view::npos)
    return look;
  std::size_t hour = colon;
  while (hour > 0 && look[hour - 1] >= '0' && look[hour - 1] <= '9')
    --hour;
  const bool parted = hour > 1 && (look[hour - 1] == ' ' || look[hour - 1] == 't');
  if (!parted || !is_time(look.substr(hour)))
    return look;
  look = trimmed(look.substr(0, hour - 1));
  if (look.ends_with(','))
    look.remove_suffix(1);
  return look;
}

/// Takes a date of numbers, or of numbers and the name of a month, apart; `look` is look_of() it.
class DateText {
public:
  DateText(std::string_view look, const TableWords& words) : look_(look), words_(words) {}

  std::optional<WrittenDate> read() {
    runs_ = word_runs(look_);
    drop_weekday();
    if (!take_parts() || parts_.size() != 3)
      return std::nullopt;
    const auto months = std::ranges::count(parts_, DatePart::Kind::month, &DatePart::kind);
    if (months == 0)
      return of_numbers();
    if (months == 1)
      if (const auto date = with_name())
        return WrittenDate{date, date};
    return std::nullopt;
  }

private:
  std::string word(const WordRun& run) const {
    return std::string(look_.substr(run.start, run.size));
  }

  /// "Sat 3 May 2031", "sexta-feira, 3 de maio de 2031"; a French "mar" is a Tuesday if another
  /// month follows.
  void drop_weekday() {
    constexpr std::size_t most_words = 2;
    for (std::size_t words = std::min(most_words, runs_.size()); words > 0; --words) {
      const std::string_view name = look_.substr(0, runs_[words - 1].end());
      const auto rest = runs_.begin() + static_cast<std::ptrdiff_t>(words);
      const bool month_follows = std::any_of(rest, runs_.end(), [&](const WordRun& run) {
        return !run.digits && words_.month(word(run));
      });
      if (rest == runs_.end() || !words_.is_weekday(name) || (words_.month(name) && !month_follows))
        continue;
      from_ = rest->start;
      runs_.erase(runs_.begin(), rest);
      return;
    }
  }

  /// False for what stands in no date.
  bool take_parts() {
    std::size_t end = from_;
    for (const WordRun& run : runs_) {
      marks_.emplace_back(look_.substr(end, run.start - end));
      end = run.end();
      const std::string text = word(run);
      if (run.digits) {
        std::string_view digits = text;
        const auto value = take_digits(digits, 1, full_year);
        if (!value)
          return false;
        parts_.push_back({DatePart::Kind::number, *value, run.size});
      } else if (const auto month = words_.month(text))
        parts_.push_back({DatePart::Kind::month, *month, 0});
      else if (!says_nothing(text))
        return false;
    }
    marks_.emplace_back(look_.substr(end));
    const bool ends = marks_.back().empty() || marks_.back() == ".";
    return marks_.front().empty() && ends && std::ranges::all_of(marks_, [](const auto& marks) {
             return marks.find_first_not_of(" ,./-") == std::string::npos;
           });
  }

  /// "3rd", "3 de mayo de 2031", "1er mai", "the 3rd of May"
  static bool says_nothing(std::string_view text) {
    constexpr std::array<std::string_view, 15> words{"o",  "st", "nd",  "rd",  "th",
                                                     "er", "of", "the", "de",  "del",
                                                     "le", "el", "den", "der", "am"};
    return std::ranges::find(words, text) != words.end();
  }

  /// Of three numbers with the same mark between them.
  std::optional<WrittenDate> of_numbers() const {
    if (runs_.size() != 3)
      return std::nullopt;
    const std::string_view mark = trimmed(marks_[1]);
    if (mark.size() != 1 || mark == "," || trimmed(marks_[2]) != mark)
      return std::nullopt;
    const auto& [a, b, c] = std::tie(parts_[0], parts_[1], parts_[2]);
    if (a.digits == full_year) {
      const auto date = real_date(a, b, c);
      return in_either_order(date, date);
    }
    const auto day_first = real_date(c, b, a);
    return in_either_order(day_first, mark == "." ? day_first : real_date(c, a, b));
  }

  /// Day, month, year; month, day, year; or year, month, day.
  std::optional<year_month_day> with_name() const {
    const auto& [a, b, c] = std::tie(parts_[0], parts_[1], parts_[2]);
    if (a.kind == DatePart::Kind::month)
      return real_date(c, a.value, b);
    if (b.kind != DatePart::Kind::month)
      return std::nullopt;
    return a.digits == full_year ? real_date(a, b.value, c) : real_date(c, b.value, a);
  }

  std::string_view look_;
  const TableWords& words_;
  std::vector<WordRun> runs_;
  std::size_t from_ = 0;
  std::vector<DatePart> parts_;
  std::vector<std::string> marks_; ///< Before each run, and behind the last.
};

} // namespace

std::string_view to_string(DateOrder order) {
  return order == DateOrder::day_first ? "day first" : "month first";
}

std::optional<year_month_day> WrittenDate::in(DateOrder order) const {
  return order == DateOrder::day_first ? day_first : month_first;
}

bool WrittenDate::order_matters() const {
  return day_first && month_first && *day_first != *month_first;
}

std::optional<WrittenDate> written_date(std::string_view text, const TableWords& words) {
  constexpr std::size_t longest = 100; // No date is longer, and each word is looked up.
  if (text.size() > longest)
    return std::nullopt;
  const std::string look = look_of(text);
  return DateText(without_time(look), words).read();
}

std::string_view date_within(std::string_view text, const TableWords& words) {
  if (written_date(text, words))
    return text;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find_first_of(" ()", start), text.size());
    const std::string_view part = text.substr(start, end - start);
    if (!part.empty() && written_date(part, words))
      return part;
    start = end + 1;
  }
  return {};
}

void DateOrders::add(const WrittenDate& date, std::string text, std::string place) {
  PlacedDate placed{std::move(text), std::move(place)};
  std::optional<PlacedDate>* first = nullptr;
  if (!date.month_first)
    first = &day_first_alone_;
  else if (!date.day_first)
    first = &month_first_alone_;
  else if (date.order_matters())
    first = &either_;
  if (first != nullptr && !*first)
    *first = std::move(placed);
}

std::optional<DateOrder> DateOrders::agreed() const {
  if (day_first_alone_ && month_first_alone_)
    return std::nullopt;
  if (month_first_alone_)
    return DateOrder::month_first;
  return day_first_alone_ || !either_ ? std::optional(DateOrder::day_first) : std::nullopt;
}

const PlacedDate* DateOrders::only_in(DateOrder order) const {
  const auto& alone = order == DateOrder::day_first ? day_first_alone_ : month_first_alone_;
  return alone ? &*alone : nullptr;
}

const PlacedDate* DateOrders::undecided() const {
  return either_ && !day_first_alone_ && !month_first_alone_ ? &*either_ : nullptr;
}

std::optional<std::pair<PlacedDate, PlacedDate>> DateOrders::contradiction() const {
  if (!day_first_alone_ || !month_first_alone_)
    return std::nullopt;
  return std::pair(*day_first_alone_, *month_first_alone_);
}

} // namespace eggfall
