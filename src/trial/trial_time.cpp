#include "trial/trial_time.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <set>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t most_listed_names = 2;

int year_of(std::chrono::sys_days day) {
  return static_cast<int>(std::chrono::year_month_day(day).year());
}

/// Of what both rows tell, the first; what one of them leaves out comes from the other.
TestTime filled(const TestTime& time, const TestTime& from) {
  return {time.year ? time.year : from.year, time.day ? time.day : from.day};
}

std::optional<std::chrono::sys_days> day_in(const RowCells& row, const Column& column) {
  const auto date = parse_date(row.text(column));
  return date ? std::optional(std::chrono::sys_days(*date)) : std::nullopt;
}

std::optional<std::chrono::sys_days>
first_day(const Trial& trial, std::optional<std::chrono::year_month_day> Animal::*date) {
  std::optional<std::chrono::sys_days> first;
  for (const Group& group : trial.groups)
    for (const Animal& animal : group.animals)
      if (animal.*date && (!first || std::chrono::sys_days(*(animal.*date)) < *first))
        first = std::chrono::sys_days(*(animal.*date));
  return first;
}

} // namespace

bool may_be_one_test(const TestTime& a, const TestTime& b) {
  if (a.year && b.year && *a.year != *b.year)
    return false;
  if (a.day && b.day)
    return (*a.day > *b.day ? *a.day - *b.day : *b.day - *a.day) < longest_test;
  if (a.year && b.day)
    return *a.year == year_of(*b.day);
  if (b.year && a.day)
    return *b.year == year_of(*a.day);
  return true;
}

TestTime time_of(const RowCells& row, const TrialColumns& columns) {
  TestTime time;
  const auto year = parse_whole_number(row.text(columns.year));
  if (year && *year >= static_cast<std::uint64_t>(first_year) &&
      *year <= static_cast<std::uint64_t>(last_year))
    time.year = static_cast<int>(*year);
  for (const Column* column : {&columns.date_treated, &columns.date_before, &columns.date_after})
    if (!time.day)
      time.day = day_in(row, *column);
  return time;
}

TestTime time_of(const Trial& trial) {
  TestTime time;
  for (const Group& group : trial.groups)
    if (!time.year)
      time.year = group.year;
  for (const auto date : {&Animal::date_treated, &Animal::date_before, &Animal::date_after})
    if (!time.day)
      time.day = first_day(trial, date);
  if (!time.year && time.day)
    time.year = year_of(*time.day);
  return time;
}

TestsOfTable::Place TestsOfTable::place_of(std::string_view trial, const RowCells& row,
                                           const TrialColumns& columns) {
  const TestTime time = time_of(row, columns);
  auto found = by_name_.find(trial);
  if (found == by_name_.end())
    found = by_name_.emplace(std::string(trial), Named{}).first;
  Named& named = found->second;
  if (!time.is_told() && named.line_without_time == 0)
    named.line_without_time = row.line();
  // The test of the row above, if it may be, so that rows that tell nothing stay with it.
  const auto fits = [&](const Test& test) { return may_be_one_test(test.time, time); };
  auto test = named.tests.end();
  if (!named.tests.empty() && fits(named.tests[named.last]))
    test = named.tests.begin() + static_cast<std::ptrdiff_t>(named.last);
  else
    test = std::find_if(named.tests.begin(), named.tests.end(), fits);
  const bool is_new = test == named.tests.end();
  if (is_new) {
    named.tests.push_back({tests_++, time, 0, 0, row.line()});
    test = named.tests.end() - 1;
  }
  test->time = filled(test->time, time);
  ++test->rows;
  test->animals += parse_whole_number(row.text(columns.animals_in_pool)).value_or(1);
  named.last = static_cast<std::size_t>(test - named.tests.begin());
  return {test->number, is_new};
}

void TestsOfTable::check(const TrialColumns& columns, const Source& source,
                         Problems& problems) const {
  const std::string column = columns.year ? columns.year.name : columns.date_treated.name;
  for (const auto& [name, named] : by_name_) {
    if (named.tests.size() < 2)
      continue;
    std::vector<std::string> times;
    for (const Test& test : named.tests)
      times.push_back(in_words(test.time));
    const std::string all = fmt::format("{}", fmt::join(times, ", "));
    if (named.line_without_time > 0)
      problems.add({source, named.line_without_time, 0, column,
                    fmt::format("no year and no date, in trial {}, which has tests of {}",
                                in_quotes(name), all),
                    "one in every row of it, or a name of its own for each test"});
    for (const Test& test : named.tests)
      if (test.animals <= 1)
        problems.add({source, test.first_line, 0, column,
                      fmt::format("one animal alone of {}, in trial {}, which has tests of {}",
                                  in_words(test.time), in_quotes(name), all),
                      "the year and dates of the other rows, or another trial's name if this is a "
                      "test of one animal"});
  }
}

std::optional<std::string> TestsOfTable::note(const Source& source) const {
  std::vector<std::string> shown;
  std::size_t several = 0;
  for (const auto& [name, named] : by_name_) {
    if (named.tests.size() < 2)
      continue;
    if (++several > most_listed_names)
      continue;
    std::vector<std::string> times;
    for (const Test& test : named.tests)
      times.push_back(
          fmt::format("{} ({} row{})", in_words(test.time), test.rows, test.rows == 1 ? "" : "s"));
    shown.push_back(fmt::format("{} of {}", in_quotes(name), fmt::join(times, ", ")));
  }
  if (several == 0)
    return std::nullopt;
  return fmt::format("{}: {} for several tests, told apart by year or date: {}{}", source.shown(),
                     several == 1 ? "one trial's name stands"
                                  : fmt::format("the names of {} trials stand", several),
                     fmt::join(shown, "; "), several > most_listed_names ? "; ..." : "");
}

std::string in_words(const TestTime& time) {
  if (time.year)
    return fmt::format("{}", *time.year);
  return time.day ? iso_date(std::chrono::year_month_day(*time.day)) : std::string("no date");
}

void name_apart(std::vector<Trial>& trials) {
  std::map<std::string, std::size_t> of_name;
  std::map<std::pair<std::string, std::optional<int>>, std::size_t> of_year;
  for (const Trial& trial : trials) {
    ++of_name[trial.name];
    ++of_year[{trial.name, time_of(trial).year}];
  }
  for (Trial& trial : trials) {
    if (of_name[trial.name] < 2)
      continue;
    const TestTime time = time_of(trial);
    const bool year_tells = time.year && of_year[{trial.name, time.year}] == 1;
    if (time.is_told())
      trial.name += ", " + in_words(year_tells ? time : TestTime{{}, time.day});
  }
}

std::string identity_of(const Trial& trial) {
  const TestTime time = time_of(trial);
  return fmt::format("{}\n{}\n{}", trial.name, time.year.value_or(0),
                     time.day ? time.day->time_since_epoch().count() : 0);
}

} // namespace eggfall
