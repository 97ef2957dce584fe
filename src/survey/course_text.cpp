#include "survey/course_text.hpp"

#include "base/text.hpp"
#include "formats/csv_row.hpp"
#include "report/result_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

std::string percent_of(const std::optional<double>& proportion) {
  return proportion ? fmt::format("{:.1f}", 100 * *proportion) : std::string("-");
}

/// "over 99", "under 1" or "62": no chance is certain.
std::string of_100(double chance) {
  if (chance > 0.99)
    return "over 99";
  return chance < 0.01 ? std::string("under 1") : fmt::format("{:.0f}", 100 * chance);
}

std::string drop_text(const std::optional<EfficacyDrop>& drop) {
  return drop ? of_100(drop->any) : std::string("-");
}

std::string name_of(const CourseKey& key) {
  std::string name = key.farm + ", " + key.drench;
  for (const std::string* const more : {&key.host, &key.worm})
    if (!more->empty())
      name += ", " + *more;
  return name;
}

/// A test, or the heads above.
std::string line(std::string_view tested, std::string_view fall, std::string_view limits,
                 std::string_view standing, std::string_view since_first,
                 std::string_view since_last) {
  return fmt::format("    {:<11}{:>5}  {:<19}{:<15}{:>11}{:>11}\n", tested, fall, limits, standing,
                     since_first, since_last);
}

std::string shown_course(const FarmCourse& course) {
  std::string out;
  const std::string title = fmt::format("{}: {}", name_of(course.key), to_string(course.word));
  out += paragraph(title, screen_width, "  ");
  for (const CourseTest& test : course.tests)
    out +=
        line(test.day.empty() ? fmt::format("{}", test.year) : test.day, percent_of(test.reduction),
             test.lower || test.upper
                 ? fmt::format("({} to {})", percent_of(test.lower), percent_of(test.upper))
                 : std::string(),
             to_string(test.standing),
             test.left_out.empty() ? drop_text(test.since_first) : "cannot tell",
             test.left_out.empty() ? drop_text(test.since_last) : "");
  return out;
}

/// What has changed on a farm. A drench that failed in the first test already is told by its class.
bool is_to_be_shown(const FarmCourse& course) {
  return course.word == CourseWord::slipping ||
         (course.word == CourseWord::lost && !course.lost_from_the_first());
}

/// Courses on a screen; the others are in the files.
constexpr std::size_t most_shown = 20;

} // namespace

std::string courses_text(const std::vector<FarmCourse>& courses) {
  if (courses.empty())
    return {};
  std::vector<std::string> counted;
  for (const CourseWord word : {CourseWord::lost, CourseWord::slipping,
                                CourseWord::too_little_to_tell, CourseWord::holding})
    counted.push_back(fmt::format("{} {}", to_string(word),
                                  std::ranges::count(courses, word, &FarmCourse::word)));
  std::string out = paragraph(
      fmt::format("The years of farms: {} drench{} of a farm tested again in another year or "
                  "month: {}.",
                  courses.size(), courses.size() == 1 ? "" : "es", fmt::join(counted, ", ")),
      screen_width);
  if (const auto from_the_first = std::ranges::count_if(courses, &FarmCourse::lost_from_the_first))
    out += paragraph(
        fmt::format("{} had failed in the farm's first test already; shown below are "
                    "those that have changed.",
                    from_the_first == 1 ? "1 of them" : fmt::format("{} of them", from_the_first)),
        screen_width);
  std::size_t shown = 0;
  std::size_t not_shown = 0;
  for (const FarmCourse& course : courses) {
    if (!is_to_be_shown(course))
      continue;
    if (shown == most_shown) {
      ++not_shown;
      continue;
    }
    if (shown++ == 0)
      out += fmt::format("\n{:>78}\n", "chance of a drop since") +
             line("tested", "fall", "limits", "standing", "the first", "the last");
    out += shown_course(course);
  }
  if (not_shown > 0)
    out += paragraph(fmt::format("... and {} more (--years FILE writes all).", not_shown),
                     screen_width, "  ");
  out += '\n';
  out += paragraph(
      "Chance of a drop: of 100, that the drench does less than in the farm's first test, and than "
      "in the test before; 50 says nothing either way. Slipping: 95 or more for any drop, and "
      "50 or more for one of more than 2 points. Holding: susceptible, and less than 25 for a drop "
      "of more than 2 points. Holding is no promise: of steady and of slipping drenches "
      "docs/audit.md "
      "says how many are called so. A test marked \"cannot tell\" is flawed "
      "(its row says how). A test is of the worms, animals and season of its own day: a change of "
      "those can look like a drop, or hide one.",
      screen_width);
  if (shown > 0)
    out += paragraph(
        "Next, for a drench that slips or is lost: rule out a wrong weight, dose or setting of the "
        "gun; test again, with more animals and a finer count (eggfall plan says how many), and "
        "have larvae told apart; meanwhile choose with your veterinarian what still works.",
        screen_width);
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
