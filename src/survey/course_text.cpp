#include "survey/course_text.hpp"

#include "base/text.hpp"
#include "formats/csv_row.hpp"
#include "formats/terminal_text.hpp"
#include "report/result_words.hpp"
#include "survey/course_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// The tests of a course, a row each.
TerminalTable tests_table() {
  return {4, 11, {{5}, {19, Side::left, 2}, {15, Side::left}, {11}, {11}}};
}

std::string shown_course(const FarmCourse& course) {
  std::string out;
  const std::string title = fmt::format("{}: {}", course_name(course.key), to_string(course.word));
  out += paragraph(title, "  ");
  for (const CourseTest& test : course.tests) {
    const CourseTestWords words = course_test_words(test);
    out += tests_table().row(words.tested,
                             {words.fall, words.limits.empty() ? "" : '(' + words.limits + ')',
                              words.standing, words.since_first, words.since_last});
  }
  return out;
}

/// The most courses that a screen shows; files have all.
constexpr std::size_t most_shown = 20;

} // namespace

std::string courses_text(const std::vector<FarmCourse>& courses) {
  if (courses.empty())
    return {};
  std::string out = paragraph(courses_counted(courses));
  out += paragraph(courses_by_drench(courses));
  const std::string failing =
      courses_named("Failing since the first test", courses, [](const FarmCourse& course) {
        return course.word == CourseWord::lost && course.lost_from_the_first();
      });
  const std::string unsure =
      courses_named("Too little to tell", courses, [](const FarmCourse& course) {
        return course.word == CourseWord::too_little_to_tell;
      });
  for (const std::string* const named : {&failing, &unsure})
    if (!named->empty())
      out += paragraph(*named);
  if (std::ranges::any_of(courses, has_changed))
    out += "Lost or slipping, after a first test that had not failed:\n";
  std::size_t shown = 0;
  std::size_t not_shown = 0;
  for (const FarmCourse& course : courses) {
    if (!has_changed(course))
      continue;
    if (shown == most_shown) {
      ++not_shown;
      continue;
    }
    if (shown++ == 0)
      out += fmt::format("\n{:>78}\n", "chance of a drop since") +
             tests_table().row("tested", {"fall", "limits", "standing", "the first", "the last"});
    out += shown_course(course);
  }
  if (not_shown > 0)
    out += paragraph(fmt::format("... and {} more (--years FILE writes all).", not_shown), "  ");
  out += '\n';
  out += paragraph(courses_note());
  if (shown > 0)
    out += paragraph(courses_next_step());
  return out;
}

std::string courses_csv(const std::vector<FarmCourse>& courses) {
  std::string out = "farm,drench,host,worm,word,trial_number,trial,group,year,day,"
                    "reduction_percent,lower_percent,upper_percent,standing,left_out,"
                    "any_drop_since_first_percent,marked_drop_since_first_percent,"
                    "any_drop_since_last_percent,marked_drop_since_last_percent\r\n";
  const auto chance = [](const std::optional<EfficacyDrop>& drop, double EfficacyDrop::*which) {
    return percent_csv_cell(drop ? std::optional(*drop.*which) : std::nullopt);
  };
  for (const FarmCourse& course : courses)
    for (const CourseTest& test : course.tests)
      out += csv_row({csv_cell(course.key.farm), csv_cell(course.key.drench),
                      csv_cell(course.key.host), csv_cell(course.key.worm),
                      std::string(to_string(course.word)), fmt::format("{}", test.trial_number),
                      csv_cell(test.trial), csv_cell(test.group), fmt::format("{}", test.year),
                      csv_cell(test.day), percent_csv_cell(test.reduction),
                      percent_csv_cell(test.lower), percent_csv_cell(test.upper),
                      std::string(to_string(test.standing)), csv_cell(test.left_out),
                      chance(test.since_first, &EfficacyDrop::any),
                      chance(test.since_first, &EfficacyDrop::marked),
                      chance(test.since_last, &EfficacyDrop::any),
                      chance(test.since_last, &EfficacyDrop::marked)}) +
             "\r\n";
  return out;
}

} // namespace eggfall
