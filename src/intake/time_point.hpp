#pragma once

#include "eggfall/base/source.hpp"
#include "intake/layout.hpp"
#include "intake/open_question.hpp"

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {

/// What a header or a cell says of the time of a sample: by a word ("pre"), a day or a week from
/// treatment ("Day 14"; hours and months are counted in days too), a place in a row ("2nd", "FEC2")
/// or a date.
struct TimePoint {
  std::string text;                 ///< As written.
  std::optional<Occasion> occasion; ///< Said by a word.
  std::optional<double> day;        ///< From treatment, which is day 0.
  bool hyphen = false;              ///< Before the day's number, and perhaps a minus: "D-7".
  bool unit_said = false;           ///< That it is a day or a week: "Day 4", and not "T4" or "4".
  bool plus = false;                ///< Before the day's number: "After +3".
  std::optional<int> place;         ///< From 1.
  std::optional<WrittenDate> date;
  std::optional<YearlessDate> yearless; ///< A date whose year is not told, "30 April".

  explicit operator bool() const { return occasion || day || place || date || yearless; }
};

/// Before or after treatment, as a word says it or the day does; nothing if neither is told.
std::optional<Occasion> occasion_said(const TimePoint& time);

/// Of the pieces of a header or a cell; nothing is said without one of the above, nor by words that
/// contradict each other ("post drench, pre weaning").
TimePoint time_point(const std::vector<HeadPiece>& pieces, std::string_view text);

/// Of a cell in a column of times, which may also be a bare number (a day) or a date.
TimePoint time_point_of_cell(std::string_view cell, const TableWords& words);

/// Of a cell below that head, whose unit (days or weeks) a bare number is of.
TimePoint time_under(std::string_view head, std::string_view cell, const TableWords& words);

/// The date in that order, where the order matters; nothing if it does and none is known.
std::optional<std::chrono::year_month_day> in_order(const WrittenDate& date,
                                                    std::optional<DateOrder> order);

/// Where a time point stands, for a question.
struct PlacedTime {
  TimePoint time;
  std::size_t line = 0;
  std::size_t column = 0;
};

/// Which of these times counts as before treatment, which as after, and which as a visit on its
/// day; nothing for one that counts as none, because the layout names others.
///
/// The layout's days are matched by how they are written, and by what they say only where nothing
/// is written so: "after" beside "after 2nd drench" is the one called "after". Without them: words
/// say it; a hyphen before a day is a minus if other days have none ("D-7" beside "D14", but not
/// beside "D-0"); of numbered days the only one up to 0 is before and the only one later is after;
/// two places in a row, or two dates, are before and after in their order, but for places of which
/// one is above 6, which number no samplings. Dates without a year are never in an order by
/// themselves: two of them are asked about, and one beside a word is the other time. One time
/// before treatment and several numbered days later are visits: if these are whole, to
/// latest_visit_day, and no mere running numbers (1, 2, 3); a number whose unit nothing says is a
/// day if the first is 7 or more, for no weeks start so late. Where the layout names the time
/// before alone, all numbered days later than 0 are visits.
/// @param order of dates, if it is known; needed for dates of which the order matters.
/// @throws OpenQuestion if there are more times than two, and they are no visits.
std::vector<std::optional<SampleTime>> occasions_of(const std::vector<PlacedTime>& times,
                                                    const Layout& layout,
                                                    std::optional<DateOrder> order,
                                                    const Source& source);

/// The day after treatment of a usual test.
inline constexpr int usual_test_day = 14;

/// The two of several days, in their order, that are likeliest before and after treatment: those
/// that lie most nearly usual_test_day apart, of several such the earliest. At least two days.
std::pair<std::chrono::sys_days, std::chrono::sys_days>
likeliest_days(const std::vector<std::chrono::sys_days>& days);

/// Makes a visit of the samples after treatment where all are of one numbered day, so that who
/// judges them knows it: on day 3 a drench may only have stopped the worms laying. Not where the
/// numbers may be a mere count ("Day 1" and "Day 2", "T0" and "T1") or of a unit that nobody says.
/// Where the sample before is of "Day 1", days are counted from that. `occasions` are
/// occasions_of() the times; only for tables that give no date of the sample.
void take_one_day_for_a_visit(const std::vector<PlacedTime>& times,
                              std::vector<std::optional<SampleTime>>& occasions);

/// Which of the times, if any, is after treatment by a number of which nobody says whether it is of
/// days or of weeks, where that may matter: "T3" beside "T0", "After +3". (A mere count, "T1", is
/// no such number, nor is the 2 of "1" and "2"; and from 7 on it is of days.)
std::optional<std::size_t>
time_of_unsaid_unit(const std::vector<PlacedTime>& times,
                    const std::vector<std::optional<SampleTime>>& occasions);

/// How many days may lie between the samples before and after treatment by their dates without a
/// year, days_from_to(); empty if these do not tell, or are the same.
std::vector<int> days_apart_without_year(const std::vector<PlacedTime>& times,
                                         const std::vector<std::optional<SampleTime>>& occasions,
                                         std::optional<DateOrder> said);

/// Whether samples so many days apart can be of a test whatever day treatment was between them, so
/// that nothing is lost with the year of their dates (practice; docs/bars.md).
bool is_usual_time_apart(int days);

/// Whether the samples after treatment are of more days than one, as those of eggs told apart
/// cannot be.
bool are_of_several_days(const std::vector<std::optional<SampleTime>>& occasions);

/// For times that are clear, of counts that can have no visits.
/// @throws OpenQuestion which of them are before and after.
[[noreturn]] void ask_for_times(const std::vector<PlacedTime>& times,
                                std::optional<DateOrder> order, const Source& source);

/// Dates of several visits are told apart by the date of treatment.
LayoutAnswer answer_by_treatment();

/// "one sample before treatment (Day 0) and visits on day 14 (Week 2) and day 28 (Week 4)", of
/// occasions_of() these times; empty without visits.
std::string visits_told(const std::vector<PlacedTime>& times,
                        const std::vector<std::optional<SampleTime>>& occasions);

} // namespace eggfall
