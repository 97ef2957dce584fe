#include "intake/time_point.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/open_question.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace eggfall {
namespace {

constexpr int most_days = 366;
constexpr int hours_a_day = 24;
constexpr int days_a_month = 30;

/// "T0" and "T14" are days too.
bool is_time_letter(const HeadPiece& piece) {
  return !piece.means && (piece.text == "T" || piece.text == "t");
}

struct NumberedDay {
  double number;
  bool hyphen; ///< Before it.
  bool unit_said;
};

/// "Days" and "weeks", in any of the languages, which stand behind their number.
bool is_plural(std::string_view word) {
  const std::string lower = lower_case(word);
  return lower.ends_with('s') || lower == "tage" || lower == "wochen" || lower == "monate" ||
         lower == "stunden";
}

/// The number beside the word at `position`, behind it or before it; of two that to which the word
/// belongs: the first of "35 days (14 animals)", the second of "1 day 14".
const HeadPiece* number_beside(const std::vector<HeadPiece>& pieces, std::size_t position) {
  const HeadPiece* const before =
      position > 0 && pieces[position - 1].number ? &pieces[position - 1] : nullptr;
  const HeadPiece* const behind =
      position + 1 < pieces.size() && pieces[position + 1].number ? &pieces[position + 1] : nullptr;
  if (behind != nullptr && !(before != nullptr && is_plural(pieces[position].text)))
    return behind;
  return before;
}

/// "72 h after", "after 1 month": whole days, and at least one. Fewer hours than a day are a time
/// of the day.
std::optional<NumberedDay> day_in_other_units(const std::vector<HeadPiece>& pieces) {
  constexpr int most_months = 12;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const bool hours = pieces[i].means == HeadWord::hour;
    if (!hours && pieces[i].means != HeadWord::months)
      continue;
    const HeadPiece* const piece = number_beside(pieces, i);
    if (piece == nullptr)
      continue;
    const int number = *piece->number;
    if (hours && number >= hours_a_day && number <= most_days * hours_a_day)
      return NumberedDay{std::floor(static_cast<double>(number) / hours_a_day),
                         piece->hyphen_before, true};
    if (!hours && number <= most_months)
      return NumberedDay{static_cast<double>(number) * days_a_month, piece->hyphen_before, true};
  }
  return std::nullopt;
}

/// A number that is said to be of days or weeks, before or behind the word; or of other units.
std::optional<NumberedDay> day_in(const std::vector<HeadPiece>& pieces) {
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    // "Tag" is an ear tag in English and a day in German; a number behind it makes it a day.
    const bool day = pieces[i].means == HeadWord::day || is_time_letter(pieces[i]) ||
                     (pieces[i].means == HeadWord::animal && lower_case(pieces[i].text) == "tag");
    const bool week = pieces[i].means == HeadWord::week;
    if (!day && !week)
      continue;
    const HeadPiece* piece = number_beside(pieces, i);
    const bool behind = piece != nullptr && piece->start > pieces[i].start;
    if (piece == nullptr || (!behind && pieces[i].means != HeadWord::day && !week))
      continue;
    const bool of_hours =
        behind && i + 2 < pieces.size() &&
        (pieces[i + 2].means == HeadWord::hour || pieces[i + 2].means == HeadWord::months);
    if (is_time_letter(pieces[i]) && of_hours)
      continue; // "T 72 h"
    if (*piece->number <= most_days)
      return NumberedDay{(week ? days_a_week : 1.0) * *piece->number, piece->hyphen_before,
                         !is_time_letter(pieces[i])};
  }
  return day_in_other_units(pieces);
}

/// "After +3"
const HeadPiece* number_behind_plus(const std::vector<HeadPiece>& pieces) {
  const auto found = std::ranges::find_if(
      pieces, [](const HeadPiece& piece) { return piece.number && piece.plus_before; });
  return found == pieces.end() ? nullptr : &*found;
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

/// Whether the layout's text is how this time is written.
bool is_written(const TimePoint& time, const std::string& text) {
  return look_of(time.text) == look_of(text);
}

/// Whether the layout's text says what this time does.
bool is_time_meant(const TimePoint& time, const std::string& text, std::optional<DateOrder> order,
                   const TableWords& words) {
  const TimePoint named = time_point_of_cell(text, words);
  if (time.yearless && named.yearless)
    return *time.yearless == *named.yearless;
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

using Occasions = std::vector<std::optional<SampleTime>>;

std::optional<SampleTime> of_no_visit(std::optional<Occasion> occasion) {
  return occasion ? std::optional(SampleTime{*occasion, 0}) : std::nullopt;
}

/// Without a unit: no weeks start so late, and no samplings are numbered so.
constexpr int least_without_unit = 7;

/// The days after treatment; nothing if one is no whole day, or if they seem to be numbered or
/// counted in a unit that nobody says.
std::optional<std::set<int>> days_after_treatment(const std::vector<const TimePoint*>& later) {
  std::set<int> days;
  bool unit_said = true;
  for (const TimePoint* time : later) {
    if (!time->day || *time->day < 1 || *time->day > latest_visit_day ||
        *time->day != std::floor(*time->day))
      return std::nullopt;
    days.insert(static_cast<int>(*time->day));
    unit_said = unit_said && time->unit_said;
  }
  if (days.empty() || (!unit_said && *days.begin() < least_without_unit))
    return std::nullopt;
  const bool may_be_a_count = days.size() > 1 || !unit_said;
  if (may_be_a_count && *days.rbegin() == static_cast<int>(days.size()))
    return std::nullopt;
  return days;
}

/// Those that may be visits: more than one.
std::optional<std::set<int>> days_of_visits(const std::vector<const TimePoint*>& later) {
  auto days = days_after_treatment(later);
  return days && days->size() > 1 ? std::move(days) : std::nullopt;
}

/// "D-7" beside "D14" is the seventh day before; were both written with a hyphen, it would only
/// part the letter from the number.
std::vector<PlacedTime> with_minus(std::vector<PlacedTime> times) {
  const bool hyphen_is_minus = std::ranges::any_of(
      times, [](const PlacedTime& each) { return each.time.day && !each.time.hyphen; });
  for (PlacedTime& each : times)
    if (hyphen_is_minus && each.time.hyphen && each.time.day)
      each.time.day = -*each.time.day;
  return times;
}

/// Decides which times are before and after.
class OccasionFinder {
public:
  OccasionFinder(const std::vector<PlacedTime>& times, std::optional<DateOrder> order,
                 const Source& source, bool may_be_visits = true)
      : times_(with_minus(times)), order_(order), source_(source), may_be_visits_(may_be_visits) {}

  Occasions by_layout(const Layout& layout) const {
    Occasions found(times_.size());
    const auto named_before = named_by(layout.day_before, layout.words());
    const auto named_after = named_by(layout.day_after, layout.words());
    for (std::size_t i = 0; i < times_.size(); ++i) {
      const TimePoint& time = times_[i].time;
      if (named_before[i])
        found[i] = SampleTime{Occasion::before, 0};
      else if (named_after[i])
        found[i] = SampleTime{Occasion::after, 0};
      else if (!layout.day_before || !layout.day_after)
        found[i] = of_no_visit(time.occasion);
    }
    if (layout.day_before && !layout.day_after)
      take_later_days(found);
    return found;
  }

  Occasions by_times() const {
    if (std::ranges::any_of(times_,
                            [](const PlacedTime& each) { return is_yearless_alone(each.time); }))
      return by_yearless();
    if (auto visits = by_visits())
      return std::move(*visits);
    const bool words_say_all = std::ranges::all_of(
        times_, [](const PlacedTime& each) { return each.time.occasion.has_value(); });
    return words_say_all ? by_words() : by_ranks();
  }

  [[noreturn]] void ask() const;

private:
  /// Which times a text of the layout names: those that are written so, or else those that say the
  /// same.
  std::vector<bool> named_by(const std::optional<std::string>& text,
                             const TableWords& words) const {
    std::vector<bool> named(times_.size());
    if (!text)
      return named;
    const bool written = std::ranges::any_of(
        times_, [&](const PlacedTime& each) { return is_written(each.time, *text); });
    for (std::size_t i = 0; i < times_.size(); ++i)
      named[i] = written ? is_written(times_[i].time, *text)
                         : is_time_meant(times_[i].time, *text, order_, words);
    return named;
  }

  /// Whether nothing but a date without its year tells the time.
  static bool is_yearless_alone(const TimePoint& time) {
    return time.yearless && !time.occasion && !time.day && !time.place;
  }

  /// One such date beside words of the one time is the other. Of two, nobody knows whether there
  /// was a turn of the year between them, nor, of most, which number is the month.
  Occasions by_yearless() const {
    std::set<std::string> dates;
    bool others = false;
    for (const PlacedTime& each : times_)
      if (is_yearless_alone(each.time))
        dates.insert(look_of(each.time.text));
      else
        others = others || !each.time.occasion;
    if (dates.size() > 1 || others || is_said(Occasion::before) == is_said(Occasion::after))
      ask();
    const Occasion other = is_said(Occasion::before) ? Occasion::after : Occasion::before;
    Occasions found;
    for (const PlacedTime& each : times_)
      found.push_back(SampleTime{each.time.occasion.value_or(other), 0});
    return found;
  }

  /// Several numbered days after the one time before; nothing if that is not clear.
  std::optional<Occasions> by_visits() const {
    Occasions found;
    std::vector<const TimePoint*> later;
    std::set<std::optional<double>> before;
    for (const PlacedTime& each : times_) {
      const bool is_later =
          each.time.occasion != Occasion::before && each.time.day && *each.time.day > 0;
      const bool is_before =
          each.time.occasion != Occasion::after &&
          (each.time.day ? *each.time.day <= 0 : each.time.occasion == Occasion::before);
      if (!is_later && !is_before)
        return std::nullopt;
      if (is_before) {
        before.insert(each.time.day);
        found.push_back(SampleTime{Occasion::before, 0});
        continue;
      }
      later.push_back(&each.time);
      found.push_back(SampleTime{Occasion::after, static_cast<int>(*each.time.day)});
    }
    return before.size() == 1 && days_of_visits(later) ? std::optional(std::move(found))
                                                       : std::nullopt;
  }

  /// Beside a time before that the layout names.
  void take_later_days(Occasions& found) const {
    std::vector<const TimePoint*> later;
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < times_.size(); ++i)
      if (times_[i].time.day && *times_[i].time.day > 0 &&
          (!found[i] || found[i]->occasion == Occasion::after)) {
        later.push_back(&times_[i].time);
        places.push_back(i);
      }
    if (!days_of_visits(later))
      return;
    for (const std::size_t i : places)
      found[i] = SampleTime{Occasion::after, static_cast<int>(*times_[i].time.day)};
  }

  /// Ranks of the times of an occasion, or of those without one, each once.
  std::set<double> ranks_of(std::optional<Occasion> occasion) const {
    std::set<double> ranks;
    for (const PlacedTime& each : times_)
      if (each.time.occasion == occasion)
        if (const auto rank = rank_of(each.time, order_))
          ranks.insert(*rank);
    return ranks;
  }

  Occasions by_words() const {
    // "Post day 7" and "Post day 14" are two times after treatment, and one of them is the test's.
    for (const Occasion occasion : all_occasions)
      if (ranks_of(occasion).size() > 1)
        ask();
    Occasions found;
    for (const PlacedTime& each : times_)
      found.push_back(of_no_visit(each.time.occasion));
    return found;
  }

  Occasions by_ranks() const {
    const auto last_before = last_rank_before();
    Occasions found(times_.size());
    for (std::size_t i = 0; i < times_.size(); ++i) {
      found[i] = of_no_visit(times_[i].time.occasion);
      const auto rank = rank_of(times_[i].time, order_);
      if (!found[i] && rank && last_before)
        found[i] = SampleTime{*rank <= *last_before ? Occasion::before : Occasion::after, 0};
    }
    return found;
  }

  bool is_said(Occasion occasion) const {
    return std::ranges::any_of(
        times_, [&](const PlacedTime& each) { return each.time.occasion == occasion; });
  }

  /// The last rank that counts as before treatment; nothing if no time has a rank.
  std::optional<double> last_rank_before() const {
    const std::set<double> ranks = ranks_of(std::nullopt);
    if (ranks.empty())
      return std::nullopt;
    if (are_no_places(ranks))
      ask();
    const bool before_said = is_said(Occasion::before);
    const bool after_said = is_said(Occasion::after);
    if (before_said || after_said) {
      if (ranks.size() > 1 || (before_said && after_said))
        ask();
      return before_said ? *ranks.begin() - 1 : *ranks.begin();
    }
    const bool days = std::ranges::any_of(
        times_, [](const PlacedTime& each) { return each.time.day.has_value(); });
    const auto up_to_treatment =
        days ? std::distance(ranks.begin(), ranks.upper_bound(0)) : std::ptrdiff_t{0};
    const auto later = static_cast<std::ptrdiff_t>(ranks.size()) - up_to_treatment;
    if (days && up_to_treatment <= 1 && later <= 1)
      return 0;
    // The first of two days is the sample before, unless it may be one after treatment: a fall from
    // day 7 to day 21 is no drench's.
    if (ranks.size() == 2 && up_to_treatment == 0 && (!days || *ranks.begin() <= 1))
      return *ranks.begin();
    if (ranks.size() > 1)
      ask();
    return *ranks.begin();
  }

  /// "EPG 28" and "EPG 14" are days of a month, perhaps, or days after treatment.
  bool are_no_places(const std::set<double>& ranks) const {
    return ranks.size() > 1 && *ranks.rbegin() >= least_without_unit &&
           std::ranges::any_of(times_, [](const PlacedTime& each) {
             return each.time.place && *each.time.place >= least_without_unit;
           });
  }

  /// The time that is likeliest the reduction test's: the last up to treatment, and the later one
  /// nearest to day 14; by words, the first of each; by dates likeliest_days(); by dates without a
  /// year those of which one lies sooner behind the other; by places the first two.
  std::pair<std::string, std::string> likeliest(const std::vector<std::string>& names) const {
    constexpr double usual_day = usual_test_day;
    const PlacedTime* before = nullptr;
    const PlacedTime* after = nullptr;
    for (const PlacedTime& each : times_) {
      if (!each.time.day)
        continue;
      const double day = *each.time.day;
      if (day <= 0 && (before == nullptr || day > *before->time.day))
        before = &each;
      if (day > 0 &&
          (after == nullptr || std::abs(day - usual_day) < std::abs(*after->time.day - usual_day)))
        after = &each;
    }
    if (before == nullptr && after == nullptr) {
      if (auto by_words = first_of_each_word())
        return *std::move(by_words);
      if (auto by_dates = likeliest_dates())
        return *std::move(by_dates);
      if (auto by_dates = nearest_without_year())
        return *std::move(by_dates);
    }
    const std::string& first = before != nullptr ? before->time.text : names.front();
    if (before != nullptr && after == nullptr && names.size() == 2)
      return {first, names.front() == first ? names.back() : names.front()};
    return {first, after != nullptr && after->time.text != first ? after->time.text
                   : before != nullptr                           ? std::string("THEIRS")
                   : names.size() > 1                            ? names[1]
                                                                 : names.front()};
  }

  std::optional<std::pair<std::string, std::string>> first_of_each_word() const {
    const auto first = [&](Occasion occasion) {
      return std::ranges::find_if(
          times_, [&](const PlacedTime& each) { return each.time.occasion == occasion; });
    };
    const auto before = first(Occasion::before);
    const auto after = first(Occasion::after);
    if (before == times_.end() || after == times_.end())
      return std::nullopt;
    return std::pair{before->time.text, after->time.text};
  }

  /// Nothing unless all are dates, of which the order is known.
  std::optional<std::pair<std::string, std::string>> likeliest_dates() const {
    std::map<std::chrono::sys_days, std::string> texts;
    for (const PlacedTime& each : times_) {
      const auto day = each.time.date ? in_order(*each.time.date, order_) : std::nullopt;
      if (!day)
        return std::nullopt;
      texts.emplace(*day, each.time.text);
    }
    if (texts.size() < 2)
      return std::nullopt;
    std::vector<std::chrono::sys_days> days;
    for (const auto& [day, text] : texts)
      days.push_back(day);
    const auto [before, after] = likeliest_days(days);
    return std::pair{texts.at(before), texts.at(after)};
  }

  std::optional<std::pair<std::string, std::string>> nearest_without_year() const {
    std::optional<int> least;
    std::pair<std::string, std::string> nearest;
    for (const PlacedTime& a : times_)
      for (const PlacedTime& b : times_) {
        if (!is_yearless_alone(a.time) || !is_yearless_alone(b.time))
          continue;
        for (const int days : days_from_to(*a.time.yearless, *b.time.yearless, std::nullopt))
          if (days > 0 && (!least || days < *least)) {
            least = days;
            nearest = {a.time.text, b.time.text};
          }
      }
    return least ? std::optional(nearest) : std::nullopt;
  }

  /// Two of the times, or all that are later than one.
  std::vector<LayoutAnswer> answers_of(const std::string& before, const std::string& after) const {
    std::vector<LayoutAnswer> answers{
        {{{"day-before", before}, {"day-after", after}}, "or others of them"}};
    std::vector<const TimePoint*> later;
    for (const PlacedTime& each : times_)
      if (each.time.day && *each.time.day > 0)
        later.push_back(&each.time);
    const bool dates = std::ranges::all_of(
        times_, [](const PlacedTime& each) { return each.time.date && !each.time.day; });
    if (may_be_visits_ && dates && times_.size() > 2)
      answers.push_back(answer_by_treatment());
    if (may_be_visits_ && days_of_visits(later))
      answers.push_back(answer("day-before", before, "alone: all later days are visits"));
    return answers;
  }

  std::vector<PlacedTime> times_;
  std::optional<DateOrder> order_;
  const Source& source_;
  bool may_be_visits_;
};

void OccasionFinder::ask() const {
  constexpr std::size_t most_listed = 12;
  std::vector<std::string> names;
  for (const PlacedTime& each : times_)
    if (each.time && std::ranges::find(names, each.time.text) == names.end())
      names.push_back(each.time.text);
  const auto [before, after] = likeliest(names);
  throw OpenQuestion(
      {source_,
       times_.front().line,
       times_.front().column,
       {},
       fmt::format("{} times of sampling, {}", names.size(), quoted_list(names, most_listed)),
       {}},
      answers_of(before, after));
}

} // namespace

std::optional<std::chrono::year_month_day> in_order(const WrittenDate& date,
                                                    std::optional<DateOrder> order) {
  if (date.order_matters() && !order)
    return std::nullopt;
  return date.order_matters() ? date.in(*order)
         : date.day_first     ? date.day_first
                              : date.month_first;
}

TimePoint time_point(const std::vector<HeadPiece>& pieces, std::string_view text) {
  TimePoint time;
  time.text = text;
  if (const auto day = day_in(pieces)) {
    time.day = day->number;
    time.hyphen = day->hyphen;
    time.unit_said = day->unit_said;
  }
  const auto have = [&](HeadWord word) { return have_word(pieces, word); };
  if (have(HeadWord::before) != have(HeadWord::after))
    time.occasion = have(HeadWord::before) ? Occasion::before : Occasion::after;
  const HeadPiece* const plus = number_behind_plus(pieces);
  if (!time.day && time.occasion == Occasion::after && plus != nullptr &&
      *plus->number <= most_days) {
    time.day = *plus->number;
    time.plus = true;
  }
  if (have(HeadWord::first) != have(HeadWord::second))
    time.place = have(HeadWord::first) ? 1 : 2;
  return time;
}

TimePoint time_point_of_cell(std::string_view cell, const TableWords& words) {
  if (auto date = written_date(cell, words)) {
    TimePoint time;
    time.text = cell;
    time.date = std::move(date);
    return time;
  }
  if (auto date = yearless_date(cell, words)) {
    TimePoint time;
    time.text = cell;
    time.yearless = std::move(date);
    return time;
  }
  const std::vector<HeadPiece> pieces = words.pieces_of(cell);
  TimePoint time = time_point(pieces, cell);
  if (time)
    return time;
  const bool negative = cell.starts_with('-') || cell.starts_with("\xE2\x88\x92");
  // Of a mere dash nothing is left.
  const std::size_t digits = negative ? cell.find_first_of("0123456789") : 0;
  if (const auto number = parse_number(cell.substr(std::min(digits, cell.size()))))
    time.day = negative ? -*number : *number;
  else if (pieces.size() == 2 && !pieces[0].means && pieces[1].number)
    time.place = pieces[1].number; // "V2", "Sampling 2"
  return time;
}

std::pair<std::chrono::sys_days, std::chrono::sys_days>
likeliest_days(const std::vector<std::chrono::sys_days>& days) {
  std::pair best{days.at(0), days.at(1)};
  const auto off = [](const auto& pair) {
    return std::chrono::abs(pair.second - pair.first - std::chrono::days(usual_test_day));
  };
  for (std::size_t i = 0; i < days.size(); ++i)
    for (std::size_t j = i + 1; j < days.size(); ++j)
      if (const std::pair each{days[i], days[j]}; off(each) < off(best))
        best = each;
  return best;
}

TimePoint time_under(std::string_view head, std::string_view cell, const TableWords& words) {
  TimePoint time = time_point_of_cell(cell, words);
  if (!time.day || time.unit_said)
    return time;
  const std::vector<HeadPiece> pieces = words.pieces_of(head);
  const auto in = [&](HeadWord unit) { return have_word(pieces, unit); };
  time.unit_said = true;
  if (in(HeadWord::day))
    return time;
  if (in(HeadWord::week))
    time.day = days_a_week * *time.day;
  else if (in(HeadWord::hour))
    time.day = *time.day / hours_a_day;
  else if (in(HeadWord::months))
    time.day = days_a_month * *time.day;
  else
    time.unit_said = false;
  return time;
}

std::vector<std::optional<SampleTime>> occasions_of(const std::vector<PlacedTime>& times,
                                                    const Layout& layout,
                                                    std::optional<DateOrder> order,
                                                    const Source& source) {
  const OccasionFinder finder(times, order, source);
  return layout.day_before || layout.day_after ? finder.by_layout(layout) : finder.by_times();
}

void take_one_day_for_a_visit(const std::vector<PlacedTime>& times,
                              std::vector<std::optional<SampleTime>>& occasions) {
  const std::vector<PlacedTime> signed_times = with_minus(times);
  std::vector<const TimePoint*> later;
  bool before_is_told = true;
  int day_of_treatment = 0;
  for (std::size_t i = 0; i < times.size(); ++i) {
    const TimePoint& time = signed_times[i].time;
    if (!occasions[i])
      continue;
    if (occasions[i]->occasion == Occasion::after)
      later.push_back(&time);
    else if (time.day == 1 && time.unit_said && !time.occasion)
      day_of_treatment = 1;
    else // and not by its place in a row
      before_is_told = before_is_told && (time.occasion || (time.day && *time.day <= 0));
  }
  const auto days = days_after_treatment(later);
  // "FEC1" beside "FEC2 (day 3)".
  const bool day_is_told =
      std::ranges::all_of(later, [](const TimePoint* each) { return each->unit_said; });
  if (!(before_is_told || day_is_told) || !days || days->size() > 1)
    return;
  const int day = *days->begin() - day_of_treatment;
  const bool mere_count = day_of_treatment == 1 && day == 1;
  if (day < 1 || mere_count)
    return;
  for (auto& occasion : occasions)
    if (occasion && occasion->occasion == Occasion::after)
      occasion->day = day;
}

std::optional<std::size_t>
time_of_unsaid_unit(const std::vector<PlacedTime>& times,
                    const std::vector<std::optional<SampleTime>>& occasions) {
  std::optional<std::size_t> found;
  const std::vector<PlacedTime> signed_times = with_minus(times);
  for (std::size_t i = 0; i < times.size(); ++i) {
    const TimePoint& time = signed_times[i].time;
    if (!occasions[i])
      continue;
    if (occasions[i]->occasion == Occasion::before) {
      if (!time.occasion && !(time.day && *time.day <= 0))
        return std::nullopt; // "1" and "2" count samplings
      continue;
    }
    if (occasions[i]->day > 0 || !time.day || time.unit_said || found)
      continue;
    const int least = time.plus ? 1 : 2;
    if (*time.day >= least && *time.day < least_without_unit)
      found = i;
  }
  return found;
}

std::vector<int> days_apart_without_year(const std::vector<PlacedTime>& times,
                                         const std::vector<std::optional<SampleTime>>& occasions,
                                         std::optional<DateOrder> said) {
  std::vector<int> found;
  for (std::size_t i = 0; i < times.size(); ++i)
    for (std::size_t j = 0; j < times.size(); ++j) {
      if (!occasions[i] || !occasions[j] || occasions[i]->occasion != Occasion::before ||
          occasions[j]->occasion != Occasion::after || occasions[j]->day > 0 ||
          !times[i].time.yearless || !times[j].time.yearless)
        continue;
      for (const int days : days_from_to(*times[i].time.yearless, *times[j].time.yearless, said))
        if (days > 0 && std::ranges::find(found, days) == found.end())
          found.push_back(days);
    }
  return found;
}

std::optional<Occasion> occasion_said(const TimePoint& time) {
  if (time.occasion || !time.day)
    return time.occasion;
  return *time.day <= 0 ? Occasion::before : Occasion::after;
}

bool is_usual_time_apart(int days) {
  constexpr int most = 42;
  return days >= usual_test_day && days <= most;
}

LayoutAnswer answer_by_treatment() {
  return answer("column", "date_treated=THEIRS",
                "the column with the day of treatment, from which visits are counted");
}

void ask_for_times(const std::vector<PlacedTime>& times, std::optional<DateOrder> order,
                   const Source& source) {
  OccasionFinder(times, order, source, false).ask();
}

bool are_of_several_days(const std::vector<std::optional<SampleTime>>& occasions) {
  std::set<int> days;
  for (const auto& occasion : occasions)
    if (occasion && occasion->occasion == Occasion::after)
      days.insert(occasion->day);
  return days.size() > 1;
}

std::string visits_told(const std::vector<PlacedTime>& times,
                        const std::vector<std::optional<SampleTime>>& occasions) {
  std::map<int, std::string> visits;
  std::string before;
  for (std::size_t i = 0; i < times.size(); ++i)
    if (occasions[i] && occasions[i]->day > 0)
      visits.emplace(occasions[i]->day, times[i].time.text);
    else if (occasions[i] && before.empty())
      before = times[i].time.text;
  if (visits.empty())
    return {};
  std::vector<std::string> names;
  for (const auto& [day, text] : visits)
    names.push_back(fmt::format("day {} ({})", day, in_quotes(text)));
  return fmt::format("one sample before treatment ({}) and {} on {}", in_quotes(before),
                     visits.size() == 1 ? "one" : "visits", in_words(names));
}

} // namespace eggfall
