#include "intake/time_point.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/open_question.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <utility>

namespace eggfall {
namespace {

constexpr double days_of_week = 7;
constexpr int most_days = 366;

/// A number that is said to be of days or weeks, before or behind the word.
std::optional<double> day_in(const std::vector<HeadPiece>& pieces) {
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    // "Tag" is an ear tag in English and a day in German; a number behind it makes it a day.
    const bool day = pieces[i].means == HeadWord::day ||
                     (pieces[i].means == HeadWord::animal && lower_case(pieces[i].text) == "tag");
    const bool week = pieces[i].means == HeadWord::week;
    if (!day && !week)
      continue;
    std::optional<int> number;
    if (i + 1 < pieces.size())
      number = pieces[i + 1].number;
    if (!number && i > 0 && pieces[i].means != HeadWord::animal)
      number = pieces[i - 1].number;
    if (number && *number <= most_days)
      return (week ? days_of_week : 1) * *number;
  }
  return std::nullopt;
}

/// A number that sorts times of one kind; nothing for a time of another.
std::optional<double> rank_of(const TimePoint& time, std::optional<DateOrder> order) {
  if (time.day)
    return time.day;
  if (time.place)
    return *time.place;
  if (time.date)
    if (const auto date = in_order(*time.date, order))
      return static_cast<double>(std::chrono::sys_days(*date).time_since_epoch().count());
  return std::nullopt;
}

/// Whether the layout's text names this time.
bool is_named(const TimePoint& time, const std::string& text, std::optional<DateOrder> order,
              const TableWords& words) {
  if (look_of(time.text) == look_of(text))
    return true;
  const TimePoint named = time_point_of_cell(text, words);
  if (time.occasion && named.occasion == time.occasion && !time.day && !named.day)
    return true;
  if (time.day || time.place)
    return named.day && *named.day == (time.day ? *time.day : static_cast<double>(*time.place));
  if (time.date && named.date) {
    const auto date = in_order(*time.date, order);
    return date && date == in_order(*named.date, order);
  }
  return false;
}

[[noreturn]] void ask_which(const std::vector<PlacedTime>& times, const std::vector<std::string>& names,
                            const Source& source) {
  constexpr std::size_t most_listed = 12;
  // The first two are offered, as those that a reduction test is made of.
  throw OpenQuestion({source, times.front().line, times.front().column, {},
                      fmt::format("{} times of sampling, {}", names.size(),
                                  quoted_list(names, most_listed)),
                      {}},
                     {{"day-before", names[0], "and"}, {"day-after", names[1], "or others of them"}});
}

} // namespace

std::optional<std::chrono::year_month_day> in_order(const WrittenDate& date,
                                                    std::optional<DateOrder> order) {
  if (date.order_matters() && !order)
    return std::nullopt;
  return date.order_matters() ? date.in(*order) : date.day_first ? date.day_first : date.month_first;
}

TimePoint time_point(const std::vector<HeadPiece>& pieces, std::string_view text) {
  TimePoint time;
  time.text = text;
  time.day = day_in(pieces);
  for (const HeadPiece& piece : pieces) {
    if (piece.means == HeadWord::before)
      time.occasion = Occasion::before;
    else if (piece.means == HeadWord::after)
      time.occasion = Occasion::after;
    else if (piece.means == HeadWord::first)
      time.place = 1;
    else if (piece.means == HeadWord::second)
      time.place = 2;
  }
  return time;
}

TimePoint time_point_of_cell(std::string_view cell, const TableWords& words) {
  if (auto date = written_date(cell, words)) {
    TimePoint time;
    time.text = cell;
    time.date = std::move(date);
    return time;
  }
  const std::vector<HeadPiece> pieces = words.pieces_of(cell);
  TimePoint time = time_point(pieces, cell);
  if (time)
    return time;
  const bool negative = cell.starts_with('-') || cell.starts_with("\xE2\x88\x92");
  if (const auto number = parse_number(cell.substr(negative ? cell.find_first_of("0123456789") : 0)))
    time.day = negative ? -*number : *number;
  return time;
}

std::vector<std::optional<Occasion>> occasions_of(const std::vector<PlacedTime>& times,
                                                  const Layout& layout,
                                                  std::optional<DateOrder> order,
                                                  const Source& source) {
  std::vector<std::optional<Occasion>> found(times.size());
  if (layout.day_before || layout.day_after) {
    for (std::size_t i = 0; i < times.size(); ++i)
      if (layout.day_before && is_named(times[i].time, *layout.day_before, order, layout.words))
        found[i] = Occasion::before;
      else if (layout.day_after && is_named(times[i].time, *layout.day_after, order, layout.words))
        found[i] = Occasion::after;
      else if (!layout.day_before || !layout.day_after)
        found[i] = times[i].time.occasion;
    return found;
  }
  // Each rank once, in order, with the text that shows it.
  std::map<double, std::string> ranks;
  for (const PlacedTime& each : times)
    if (!each.time.occasion)
      if (const auto rank = rank_of(each.time, order))
        ranks.emplace(*rank, each.time.text);
  const bool words_say_all = std::ranges::all_of(
      times, [](const PlacedTime& each) { return each.time.occasion.has_value(); });
  if (words_say_all) {
    // "Post day 7" and "Post day 14" are two times after treatment, and one of them is the test's.
    for (const Occasion occasion : all_occasions) {
      std::map<double, std::string> days;
      for (const PlacedTime& each : times)
        if (each.time.occasion == occasion)
          if (const auto rank = rank_of(each.time, order))
            days.emplace(*rank, each.time.text);
      if (days.size() > 1) {
        std::vector<std::string> names;
        for (const PlacedTime& each : times)
          if (std::ranges::find(names, each.time.text) == names.end())
            names.push_back(each.time.text);
        ask_which(times, names, source);
      }
    }
    for (std::size_t i = 0; i < times.size(); ++i)
      found[i] = times[i].time.occasion;
    return found;
  }
  const bool as_days = std::ranges::any_of(
      times, [](const PlacedTime& each) { return each.time.day.has_value(); });
  const auto later = as_days ? ranks.upper_bound(0) : ranks.begin();
  const auto up_to_0 = static_cast<std::size_t>(std::distance(ranks.begin(), later));
  const std::size_t after_0 = ranks.size() - up_to_0;
  const bool said_before = std::ranges::any_of(times, [](const PlacedTime& each) {
    return each.time.occasion == Occasion::before;
  });
  const bool said_after = std::ranges::any_of(times, [](const PlacedTime& each) {
    return each.time.occasion == Occasion::after;
  });
  std::optional<double> last_before;
  if (as_days && up_to_0 <= 1 && after_0 <= 1)
    last_before = 0;
  else if (ranks.size() == 2 && up_to_0 != 2 && !said_before && !said_after)
    last_before = ranks.begin()->first;
  else if (ranks.size() == 1 && !as_days && (said_before || said_after))
    last_before = said_before ? ranks.begin()->first - 1 : ranks.begin()->first;
  if (!last_before || (as_days && ((said_before && up_to_0 > 0) || (said_after && after_0 > 0)))) {
    std::vector<std::string> names;
    for (const PlacedTime& each : times)
      if (each.time && std::ranges::find(names, each.time.text) == names.end())
        names.push_back(each.time.text);
    if (names.size() < 2)
      return found;
    ask_which(times, names, source);
  }
  for (std::size_t i = 0; i < times.size(); ++i)
    if (times[i].time.occasion)
      found[i] = times[i].time.occasion;
    else if (const auto rank = rank_of(times[i].time, order))
      found[i] = *rank <= *last_before ? Occasion::before : Occasion::after;
  return found;
}

} // namespace eggfall
