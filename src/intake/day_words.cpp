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

std::optional<std::chrono::month_day> real_day(int month, int day) {
  const std::chrono::month_day date{std::chrono::month(static_cast<unsigned>(month)),
                                    std::chrono::day(static_cast<unsigned>(day))};
  return date.ok() ? std::optional(date) : std::nullopt;
}

std::optional<YearlessDate>
in_either_order(const std::optional<std::chrono::month_day>& day_first,
                const std::optional<std::chrono::month_day>& month_first) {
  if (!day_first && !month_first)
    return std::nullopt;
  return YearlessDate{day_first, month_first};
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
    if (!take_parts())
      return std::nullopt;
    if (parts_.size() == 1)
      return of_eight_digits();
    if (parts_.size() != 3)
      return std::nullopt;
    const auto months = month_names();
    if (months == 0)
      return of_numbers();
    if (months == 1)
      if (const auto date = with_name())
        return WrittenDate{date, date};
    return std::nullopt;
  }

  std::optional<YearlessDate> read_yearless() {
    runs_ = word_runs(look_);
    drop_weekday();
    if (!take_parts() || std::ranges::any_of(parts_, [](const DatePart& part) {
          return part.kind == DatePart::Kind::number && part.digits > 2;
        }))
      return std::nullopt;
    const auto months = month_names();
    if (parts_.size() == 3)
      return months == 1 && parts_[1].kind == DatePart::Kind::month
                 ? in_either_order(real_day(parts_[1].value, parts_[0].value),
                                   real_day(parts_[1].value, parts_[2].value))
                 : std::nullopt;
    if (parts_.size() != 2)
      return std::nullopt;
    if (months == 0)
      return of_two_numbers();
    const bool month_leads = parts_[0].kind == DatePart::Kind::month;
    const auto day = real_day(parts_[month_leads ? 0 : 1].value, parts_[month_leads ? 1 : 0].value);
    return months == 1 ? in_either_order(day, day) : std::nullopt;
  }

private:
  std::ptrdiff_t month_names() const {
    return std::ranges::count(parts_, DatePart::Kind::month, &DatePart::kind);
  }

  /// "20310503", as instruments write it.
  std::optional<WrittenDate> of_eight_digits() const {
    constexpr std::size_t size = 8;
    const DatePart& part = parts_.front();
    if (part.digits != size || look_.size() != size)
      return std::nullopt;
    const auto date =
        real_date({DatePart::Kind::number, part.value / 10'000, full_year}, part.value / 100 % 100,
                  {DatePart::Kind::number, part.value % 100, 2});
    return in_either_order(date, date);
  }

  /// Parted by one mark. A number with a point in it is none: its month has two digits, or a point
  /// behind it.
  std::optional<YearlessDate> of_two_numbers() const {
    if (runs_.size() != 2)
      return std::nullopt;
    const auto& [a, b] = std::tie(parts_[0], parts_[1]);
    const std::string_view mark = trimmed(marks_[1]);
    const auto day_first = real_day(b.value, a.value);
    const auto month_first = real_day(a.value, b.value);
    if (mark == "/")
      return in_either_order(day_first, month_first);
    constexpr int last_month = 12;
    if (mark == "-" && std::max(a.value, b.value) > last_month)
      return in_either_order(day_first, month_first);
    if (mark == "." && (b.digits == 2 || marks_.back() == "."))
      return in_either_order(day_first, std::nullopt);
    return std::nullopt;
  }

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
        constexpr std::size_t most_digits = 8;
        const auto value = take_digits(digits, 1, most_digits);
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

constexpr std::size_t longest_date = 100; // No date is longer, and each word is looked up.

/// Whether the year of a date within other words is one beyond doubt: of "1 May 30" it is none, as
/// 1 may number a column.
bool has_sure_year(std::string_view date, const TableWords& words) {
  if (!names_month(date, words) || date.find(' ') == std::string_view::npos)
    return true;
  return std::ranges::any_of(
      word_runs(date), [](const WordRun& run) { return run.digits && run.size == full_year; });
}

bool is_digit_at(std::string_view text, std::size_t position) {
  return position < text.size() && text[position] >= '0' && text[position] <= '9';
}

/// Whether a mark joins another number to the part of a text from `start` to `end`: of "3/5/203"
/// nothing is a date.
bool goes_on(std::string_view text, std::size_t start, std::size_t end) {
  constexpr std::string_view marks = "/.-";
  const bool before = start > 1 && marks.find(text[start - 1]) != std::string_view::npos &&
                      is_digit_at(text, start - 2) && is_digit_at(text, start);
  const bool after = end + 1 < text.size() && marks.find(text[end]) != std::string_view::npos &&
                     is_digit_at(text, end + 1) && is_digit_at(text, end - 1);
  return before || after;
}

/// The longest run of words in a text that `fits`, the first of several; empty if none does. It
/// starts with a number, a month or a day of the week, and has a number.
template <typename Fits>
std::string_view longest_part(std::string_view text, const TableWords& words, const Fits& fits) {
  constexpr std::size_t most_runs = 12;
  constexpr std::size_t most_words = 40; // A head is shorter, and each run of words is looked up.
  const std::vector<WordRun> runs = word_runs(text);
  if (runs.size() > most_words || std::ranges::none_of(runs, &WordRun::digits))
    return {};
  std::vector<std::size_t> starts;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const std::string_view word = text.substr(runs[i].start, runs[i].size);
    if (runs[i].digits || words.month(word) || words.is_weekday(word))
      starts.push_back(i);
  }
  for (std::size_t count = std::min(most_runs, runs.size()); count > 0; --count)
    for (const std::size_t i : starts) {
      if (i + count > runs.size())
        continue;
      const std::size_t start = runs[i].start;
      std::size_t end = runs[i + count - 1].end();
      if (goes_on(text, start, end))
        continue;
      if (end < text.size() && text[end] == '.')
        ++end;
      if (const std::string_view part = text.substr(start, end - start); fits(part))
        return part;
    }
  return {};
}

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
  if (text.size() > longest_date)
    return std::nullopt;
  const std::string look = look_of(text);
  return DateText(without_time(look), words).read();
}

std::optional<YearlessDate> yearless_date(std::string_view text, const TableWords& words) {
  if (text.size() > longest_date)
    return std::nullopt;
  const std::string look = look_of(text);
  return DateText(look, words).read_yearless();
}

std::optional<std::chrono::month_day> YearlessDate::in(DateOrder order) const {
  return order == DateOrder::day_first ? day_first : month_first;
}

std::vector<int> days_from_to(const YearlessDate& from, const YearlessDate& to,
                              std::optional<DateOrder> said) {
  constexpr int year = 2031;
  constexpr int leap_year = 2032;
  using std::chrono::sys_days;
  std::vector<int> found;
  for (const DateOrder order : {DateOrder::day_first, DateOrder::month_first}) {
    const auto first = from.in(order);
    const auto second = to.in(order);
    if ((said && order != *said) || !first || !second)
      continue;
    const bool leaps =
        !(std::chrono::year(year) / *first).ok() || !(std::chrono::year(year) / *second).ok();
    const std::chrono::year the_year(leaps ? leap_year : year);
    const auto turn =
        sys_days((the_year + std::chrono::years(1)) / 1 / 1) - sys_days(the_year / 1 / 1);
    auto days = sys_days(the_year / *second) - sys_days(the_year / *first);
    if (days < std::chrono::days(0))
      days += turn;
    const int count = static_cast<int>(days.count());
    if (std::ranges::find(found, count) == found.end())
      found.push_back(count);
  }
  return found;
}

std::string_view date_within(std::string_view text, const TableWords& words) {
  if (written_date(text, words))
    return text;
  return longest_part(text, words, [&](std::string_view part) {
    return written_date(part, words) && has_sure_year(part, words);
  });
}

std::string_view yearless_within(std::string_view text, const TableWords& words) {
  return longest_part(
      text, words, [&](std::string_view part) { return yearless_date(part, words).has_value(); });
}

bool names_month(std::string_view text, const TableWords& words) {
  return std::ranges::any_of(word_runs(text), [&](const WordRun& run) {
    return !run.digits && words.month(text.substr(run.start, run.size)).has_value();
  });
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
