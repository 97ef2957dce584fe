#include "survey/course_words.hpp"

#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;

TEST_CASE("A course is named by what is known of it") {
  CHECK(course_name({"Hill", "ivermectin", "", ""}) == "Hill, ivermectin");
  CHECK(course_name({"Hill", "ivermectin", "sheep", "haemonchus"}) ==
        "Hill, ivermectin, sheep, haemonchus");
}

TEST_CASE("A host that all courses share need not stand in each name") {
  FarmCourse sheep;
  sheep.key = {"Hill", "ivermectin", "sheep", "haemonchus"};
  FarmCourse goats = sheep;
  CHECK(shared_host({}).empty());
  CHECK(shared_host({&sheep, &goats}) == "sheep");
  CHECK(drench_of_course(sheep.key, "sheep") == "ivermectin, haemonchus");
  goats.key.host = "goats";
  CHECK(shared_host({&sheep, &goats}).empty());
  CHECK(drench_of_course(goats.key, "") == "ivermectin, goats, haemonchus");
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

TEST_CASE("A test of a course is told with its limits, and one that takes no part by no chance") {
  CourseTest test;
  test.year = 2031;
  test.reduction = 0.8614;
  test.lower = 0.817;
  test.upper = 0.898;
  test.standing = VerdictClass::resistant;
  test.since_first = EfficacyDrop{0.9951, 0.62};
  CourseTestWords words = course_test_words(test);
  CHECK(words.tested == "2031");
  CHECK(words.fall == "86.1");
  CHECK(words.limits == "81.7 to 89.8");
  CHECK(words.standing == "resistant");
  CHECK(words.since_first == "over 99");
  CHECK(words.since_last == "-");

  test.day = "2031-05-14";
  test.lower.reset();
  test.left_out = "its day";
  words = course_test_words(test);
  CHECK(words.tested == "2031-05-14");
  CHECK(words.limits == "- to 89.8");
  CHECK(words.since_first == "cannot tell");
  CHECK(words.since_last.empty());
}

TEST_CASE("A drench that had failed in the first test already has not changed") {
  FarmCourse course;
  course.tests.resize(2);
  course.tests.front().standing = VerdictClass::susceptible;
  course.tests.back().standing = VerdictClass::resistant;
  course.word = CourseWord::lost;
  CHECK(has_changed(course));
  course.tests.front().standing = VerdictClass::resistant;
  CHECK_FALSE(has_changed(course));
  course.word = CourseWord::slipping;
  CHECK(has_changed(course));
  course.word = CourseWord::holding;
  CHECK_FALSE(has_changed(course));
}

TEST_CASE("The note on courses says the chances that their words go by") {
  CHECK(
      courses_note().find("Slipping: 95 or more for any drop, and 50 or more for one of more than "
                          "2 points. Holding: susceptible, and less than 25 for a drop of more "
                          "than 2 points.") != std::string::npos);
}
