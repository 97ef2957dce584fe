#include "eggfall/survey/farm_course.hpp"

#include "base/date.hpp"
#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/statistics/evidence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <iterator>
#include <tuple>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<CourseWord, 4> course_word_names{{
    {CourseWord::holding, "holding"},
    {CourseWord::slipping, "slipping"},
    {CourseWord::lost, "lost"},
    {CourseWord::too_little_to_tell, "too little to tell"},
}};

std::string why_left_out(const SurveyRow& row) {
  if (!row.reduction || !row.dated.counts)
    return "no fall can be worked out";
  if (is_drenchs_own_fall(row))
    return {};
  std::vector<std::string_view> bars;
  for (const Bar& bar : row.standing.bars)
    bars.push_back(to_string(bar.code));
  return fmt::format("{}", fmt::join(bars, ", "));
}

std::pair<int, std::string_view> time_of(const CourseTest& test) {
  return {test.year, test.day};
}

/// Whether test `a` is surely of an earlier time than `b`: of two in one year both days must be
/// known.
bool is_earlier(const CourseTest& a, const CourseTest& b) {
  if (a.year != b.year)
    return a.year < b.year;
  return !a.day.empty() && !b.day.empty() && a.day < b.day;
}

/// Whether any two of them are surely of different times: of two years, or of two known days.
bool of_several_times(const std::vector<KeptTest>& tests) {
  const auto dated =
      std::ranges::find_if(tests, [](const KeptTest& test) { return !test.shown.day.empty(); });
  return std::ranges::any_of(tests, [&](const KeptTest& test) {
    return test.shown.year != tests.front().shown.year ||
           (!test.shown.day.empty() && test.shown.day != dated->shown.day);
  });
}

/// A test that takes part, and its law.
struct ToldTest {
  CourseTest* test;
  GuardedLaw law;
};

std::vector<ToldTest> told_tests(std::vector<KeptTest>& tests, const PosteriorPriors& priors) {
  std::vector<ToldTest> told;
  for (KeptTest& test : tests) {
    if (!test.shown.left_out.empty())
      continue;
    try {
      const Evidence evidence(*test.counts, priors);
      if (const OrReason<GuardedLaw>& law = evidence.guarded()) {
        told.push_back({&test.shown, *law});
        continue;
      }
    } catch (const CalculationError&) { // one odd test must not take the others with it
    }
    test.shown.left_out = "its counts give no distribution of the fall";
  }
  return told;
}

bool has_slipped(const std::optional<EfficacyDrop>& drop) {
  return drop && drop->any >= surely_dropped && drop->marked >= likely_marked;
}

CourseWord word_for(const std::vector<KeptTest>& tests, const std::vector<ToldTest>& told) {
  if (told.empty())
    return CourseWord::too_little_to_tell;
  const CourseTest& last = *told.back().test;
  if (finds_it_lost(last))
    return CourseWord::lost;
  if (last.standing == VerdictClass::low_resistant || has_slipped(last.since_first) ||
      has_slipped(last.since_last))
    return CourseWord::slipping;
  const bool newest_takes_part = tests.back().shown.left_out.empty();
  if (newest_takes_part && last.standing == VerdictClass::susceptible && last.since_first &&
      last.since_first->marked < hardly_dropped)
    return CourseWord::holding;
  return CourseWord::too_little_to_tell;
}

} // namespace

std::string_view to_string(CourseWord word) {
  return name_of(course_word_names, word, "a word for a course");
}

std::optional<CourseWord> parse_course_word(std::string_view text) {
  return value_named(course_word_names, text);
}

bool finds_it_lost(const CourseTest& test) {
  return test.left_out.empty() && test.standing == VerdictClass::resistant;
}

bool FarmCourse::lost_from_the_first() const {
  const auto first =
      std::ranges::find_if(tests, [](const CourseTest& test) { return test.left_out.empty(); });
  return first != tests.end() && finds_it_lost(*first);
}

void CoursesUnderWay::add(const SurveyRow& row) {
  const Group& group = row.group;
  const std::string drench =
      group.drench.empty() ? to_string(group.classes) : lower_case(group.drench);
  if (group.farm.empty() || drench.empty() || !row.dated.year)
    return;
  KeptTest test;
  CourseTest& shown = test.shown;
  shown.trial_number = row.trial_number;
  shown.trial = row.trial;
  shown.group = group.name;
  shown.year = *row.dated.year;
  if (row.dated.day)
    shown.day = iso_date(std::chrono::year_month_day(*row.dated.day));
  shown.reduction = row.reduction;
  if (row.interval) {
    shown.lower = row.interval->lower;
    shown.upper = row.interval->upper;
  }
  shown.standing = row.standing.verdict_class;
  shown.left_out = why_left_out(row);
  if (shown.left_out.empty())
    test.counts = row.dated.counts;
  tests_[{group.farm, drench, group.host, group.worm}].push_back(std::move(test));
}

std::vector<std::pair<CourseKey, std::vector<KeptTest>>> CoursesUnderWay::courses() && {
  std::vector<std::pair<CourseKey, std::vector<KeptTest>>> several;
  for (auto& [key, tests] : tests_)
    if (of_several_times(tests))
      several.emplace_back(key, std::move(tests));
  return several;
}

FarmCourse course_of(const CourseKey& key, std::vector<KeptTest> tests,
                     const PosteriorPriors& priors) {
  std::ranges::sort(tests, [](const KeptTest& a, const KeptTest& b) {
    return std::tuple(time_of(a.shown), a.shown.trial_number, std::string_view(a.shown.group)) <
           std::tuple(time_of(b.shown), b.shown.trial_number, std::string_view(b.shown.group));
  });
  std::vector<ToldTest> told = told_tests(tests, priors);
  for (std::size_t i = 0; i < told.size(); ++i) {
    const auto is_before = [&](const ToldTest& other) {
      return is_earlier(*other.test, *told[i].test);
    };
    const auto last =
        std::find_if(std::make_reverse_iterator(told.begin() + static_cast<std::ptrdiff_t>(i)),
                     told.rend(), is_before);
    if (last == told.rend())
      continue;
    const auto first = std::ranges::find_if(told, is_before);
    told[i].test->since_last = drop_between(last->law, told[i].law);
    told[i].test->since_first =
        &*last == &*first ? told[i].test->since_last : drop_between(first->law, told[i].law);
  }
  FarmCourse course{key, {}, word_for(tests, told)};
  for (KeptTest& test : tests)
    course.tests.push_back(std::move(test.shown));
  return course;
}

} // namespace eggfall
