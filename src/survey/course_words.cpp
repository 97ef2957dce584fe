#include "survey/course_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

std::string chance_of_100(double chance) {
  if (chance > 0.99)
    return "over 99";
  return chance < 0.01 ? std::string("under 1") : fmt::format("{:.0f}", 100 * chance);
}

} // namespace

std::string course_name(const CourseKey& key) {
  std::string name = key.farm + ", " + key.drench;
  for (const std::string* const more : {&key.host, &key.worm})
    if (!more->empty())
      name += ", " + *more;
  return name;
}

std::string drop_of_100(const std::optional<EfficacyDrop>& drop) {
  return drop ? chance_of_100(drop->any) : std::string("-");
}

std::string marked_drop_of_100(const std::optional<EfficacyDrop>& drop) {
  return drop ? chance_of_100(drop->marked) : std::string("-");
}

CourseTestWords course_test_words(const CourseTest& test) {
  const auto percent_of = [](const std::optional<double>& proportion) {
    return proportion ? fmt::format("{:.1f}", 100 * *proportion) : std::string("-");
  };
  CourseTestWords words;
  words.tested = test.day.empty() ? fmt::format("{}", test.year) : test.day;
  words.fall = percent_of(test.reduction);
  if (test.lower || test.upper)
    words.limits = fmt::format("{} to {}", percent_of(test.lower), percent_of(test.upper));
  words.standing = to_string(test.standing);
  words.since_first = test.left_out.empty() ? drop_of_100(test.since_first) : "cannot tell";
  if (test.left_out.empty())
    words.since_last = drop_of_100(test.since_last);
  return words;
}

bool has_changed(const FarmCourse& course) {
  return course.word == CourseWord::slipping ||
         (course.word == CourseWord::lost && !course.lost_from_the_first());
}

std::string courses_counted(const std::vector<FarmCourse>& courses) {
  std::vector<std::string> counted;
  for (const CourseWord word : course_words_by_need)
    counted.push_back(fmt::format("{} {}", to_string(word),
                                  std::ranges::count(courses, word, &FarmCourse::word)));
  return fmt::format("The years of farms: {} drench{} of a farm tested again in another year or "
                     "month: {}.",
                     courses.size(), courses.size() == 1 ? "" : "es", fmt::join(counted, ", "));
}

std::string courses_note() {
  return "Chance of a drop: of 100, that the drench does less than in the farm's first test, and "
         "than in the test before; 50 says nothing either way. Slipping: 95 or more for any drop, "
         "and 50 or more for one of more than 2 points. Holding: susceptible, and less than 25 for "
         "a drop of more than 2 points. Holding is no promise: of steady and of slipping drenches "
         "docs/audit.md says how many are called so. A test marked \"cannot tell\" is flawed (its "
         "row says how). A test is of the worms, animals and season of its own day: a change of "
         "those can look like a drop, or hide one.";
}

std::string courses_next_step() {
  return "Next, for a drench that slips or is lost: rule out a wrong weight, dose or setting of "
         "the gun; test again, with more animals and a finer count (eggfall plan says how many), "
         "and have larvae told apart; meanwhile choose with your veterinarian what still works.";
}

} // namespace eggfall
