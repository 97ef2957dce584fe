#include "survey/course_words.hpp"

#include "base/number_words.hpp"
#include "eggfall/statistics/ranking.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace eggfall {

std::string course_name(const CourseKey& key) {
  return key.farm + ", " + drench_of_course(key, {});
}

std::string shared_host(const std::vector<const FarmCourse*>& courses) {
  if (courses.empty())
    return {};
  const std::string& first = courses.front()->key.host;
  return std::ranges::all_of(courses,
                             [&](const FarmCourse* course) { return course->key.host == first; })
             ? first
             : std::string();
}

std::string drench_of_course(const CourseKey& key, const std::string& shared) {
  std::string name = key.drench;
  if (!key.host.empty() && key.host != shared)
    name += ", " + key.host;
  if (!key.worm.empty())
    name += ", " + key.worm;
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

std::string courses_by_drench(const std::vector<FarmCourse>& courses) {
  std::map<std::string, std::map<CourseWord, std::size_t>> by_drench;
  for (const FarmCourse& course : courses)
    ++by_drench[course.key.drench][course.word];
  std::vector<std::string> drenches;
  for (const auto& [drench, words] : by_drench) {
    std::vector<std::string> counted;
    for (const CourseWord word : course_words_by_need)
      if (const auto farms = words.find(word); farms != words.end())
        counted.push_back(fmt::format("{} {}", to_string(word), farms->second));
    drenches.push_back(fmt::format("{}: {}", drench, fmt::join(counted, ", ")));
  }
  return fmt::format("By drench, of each farm's years to its newest test: {}.",
                     fmt::join(drenches, "; "));
}

std::string courses_named(std::string_view what, const std::vector<FarmCourse>& courses,
                          const std::function<bool(const FarmCourse&)>& chosen) {
  constexpr std::size_t most_named = 12;
  std::vector<std::string> names;
  for (const FarmCourse& course : courses)
    if (chosen(course))
      names.push_back(course.key.farm + " (" + course.key.drench + ')');
  if (names.empty())
    return {};
  const std::size_t all = names.size();
  names.resize(std::min(all, most_named));
  return fmt::format("{}, {}: {}{}.", what, all, fmt::join(names, ", "),
                     all > most_named ? fmt::format(" and {} more", all - most_named)
                                      : std::string());
}

std::string courses_note() {
  return fmt::format(
      "Chance of a drop: of 100, that the drench does less than in the farm's first test, and than "
      "in the test before; 50 says nothing either way. Slipping: {:g} or more for any drop, and "
      "{:g} "
      "or more for one of more than {:g} points. Holding: susceptible, and less than {:g} for a "
      "drop "
      "of more than {:g} points. Holding is no promise: of steady and of slipping drenches "
      "docs/audit.md says how many are called so. A test marked \"cannot tell\" is flawed (its row "
      "says how). A test is of the worms, animals and season of its own day: a change of those can "
      "look like a drop, or hide one.",
      100 * surely_dropped, 100 * likely_marked, 100 * close_efficacies, 100 * hardly_dropped,
      100 * close_efficacies);
}

std::string courses_next_step() {
  return "Next, for a drench that slips or is lost: rule out a wrong weight, dose or setting of "
         "the gun; have larvae told apart; test again before its next use, with more animals and a "
         "finer count (eggfall plan says how many). Do not rely on it until then; where it has "
         "failed twice, stop relying on it. Of steady drenches about one in twenty is called "
         "slipping in any year, by luck.";
}

} // namespace eggfall
