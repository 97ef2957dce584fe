#include "survey/course_words.hpp"

#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;

TEST_CASE("A course is named by what is known of it") {
  CHECK(course_name({"Hill", "ivermectin", "", ""}) == "Hill, ivermectin");
  CHECK(course_name({"Hill", "ivermectin", "sheep", "haemonchus"}) ==
        "Hill, ivermectin, sheep, haemonchus");
}

TEST_CASE("No chance of a drop is certain, and none is no number") {
  CHECK(drop_of_100(EfficacyDrop{0.9951, 0.62}) == "over 99");
  CHECK(marked_drop_of_100(EfficacyDrop{0.9951, 0.62}) == "62");
  CHECK(drop_of_100(EfficacyDrop{0.004, 0.002}) == "under 1");
  CHECK(drop_of_100(std::nullopt) == "-");
  CHECK(marked_drop_of_100(std::nullopt) == "-");
}

TEST_CASE("Courses are counted by their words, the worst first, and each word has its place") {
  FarmCourse lost;
  lost.word = CourseWord::lost;
  FarmCourse holding;
  holding.word = CourseWord::holding;
  CHECK_THAT(courses_counted({holding, lost, holding}),
             Catch::EndsWith("lost 1, slipping 0, too little to tell 0, holding 2."));
  for (const CourseWord word : all_course_words)
    CHECK(std::ranges::count(course_words_by_need, word) == 1);
}
