#include "eggfall/survey/farm_course.hpp"

#include "support/support.hpp"
#include "survey/course_text.hpp"
#include "survey/farms_together.hpp"

#include <sstream>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

using enum VerdictClass;

/// A test of ten animals of 30 eggs each, of which so many are left in each.
SurveyRow test_of(int year, const std::vector<std::uint32_t>& left, VerdictClass standing) {
  static std::uint64_t number = 0;
  SurveyRow row;
  row.trial_number = ++number;
  row.trial = "t";
  row.group.name = "g";
  row.group.farm = "Hill";
  row.group.drench = "White drench";
  row.group.host = "sheep";
  row.dated.year = year;
  row.standing.verdict_class = standing;
  Comparison comparison;
  Arm arm;
  double eggs = 0;
  for (const std::uint32_t each : left) {
    arm.below.push_back({EggsSeen(30), MultiplicationFactor(15)});
    arm.above.push_back({EggsSeen(each), MultiplicationFactor(15)});
    eggs += each;
  }
  comparison.arms = {arm};
  row.reduction = 1 - eggs / 300;
  row.dated.counts = comparison;
  return row;
}

const std::vector<std::uint32_t> good{0, 1, 0, 0, 2, 0, 1, 0, 0, 1};
const std::vector<std::uint32_t> worse{3, 2, 3, 2, 3, 2, 3, 2, 3, 2};
const std::vector<std::uint32_t> bad{14, 16, 13, 15, 17, 14, 16, 15, 13, 16};
const std::vector<std::uint32_t> clean{0, 0, 0, 0, 0, 0, 0, 0, 0, 0};

SurveyRow barred(SurveyRow row, BarCode code) {
  Bar bar;
  bar.code = code;
  row.standing.bars = {bar};
  row.standing.verdict_class = verdict_class_behind(bar);
  return row;
}

std::vector<FarmCourse> courses_of(const std::vector<SurveyRow>& rows) {
  CoursesUnderWay farms;
  for (const SurveyRow& row : rows)
    farms.add(row);
  return courses_of(std::move(farms), {});
}

FarmCourse course(const std::vector<SurveyRow>& rows) {
  const std::vector<FarmCourse> courses = courses_of(rows);
  REQUIRE(courses.size() == 1);
  return courses.front();
}

} // namespace

TEST_CASE("A course has its tests in the order of their times, whatever that of the rows") {
  const FarmCourse hill = course({test_of(2032, bad, resistant), test_of(2030, good, susceptible),
                                  test_of(2031, good, susceptible)});
  CHECK(hill.key.farm == "Hill");
  CHECK(hill.key.drench == "white drench");
  REQUIRE(hill.tests.size() == 3);
  CHECK(hill.tests[0].year == 2030);
  CHECK(hill.tests[2].year == 2032);
  CHECK_FALSE(hill.tests[0].since_first);
  CHECK_FALSE(hill.tests[0].since_last);
  CHECK(hill.tests[1].since_first == hill.tests[1].since_last);
  CHECK(hill.tests[2].since_first->any > 0.99);
  CHECK(hill.tests[2].since_last->marked > 0.99);
}

TEST_CASE("A drench whose last test finds resistance is lost") {
  CHECK(course({test_of(2030, good, susceptible), test_of(2031, bad, resistant)}).word ==
        CourseWord::lost);
  CHECK(course({test_of(2030, bad, resistant), test_of(2031, bad, resistant)}).word ==
        CourseWord::lost);
}

TEST_CASE("A drench that does surely and markedly less than it did is slipping") {
  CHECK(course({test_of(2030, clean, susceptible), test_of(2031, worse, inconclusive)}).word ==
        CourseWord::slipping);
  CHECK(course({test_of(2030, good, susceptible), test_of(2031, good, low_resistant)}).word ==
        CourseWord::slipping);
}

TEST_CASE("A drench holds if it is susceptible and no marked drop is in sight") {
  CHECK(course({test_of(2030, good, susceptible), test_of(2031, clean, susceptible)}).word ==
        CourseWord::holding);
  CHECK(course({test_of(2030, good, susceptible), test_of(2031, clean, inconclusive)}).word ==
        CourseWord::too_little_to_tell);
}

TEST_CASE("A flawed test takes no part, and the newest one flawed leaves no drench holding") {
  const FarmCourse hill =
      course({test_of(2030, good, susceptible), test_of(2031, clean, susceptible),
              barred(test_of(2032, bad, resistant), BarCode::day)});
  CHECK(hill.word == CourseWord::too_little_to_tell);
  CHECK(hill.tests[2].left_out == "day");
  CHECK_FALSE(hill.tests[2].since_first);
  CHECK(course({barred(test_of(2030, good, susceptible), BarCode::dose),
                test_of(2031, good, susceptible), test_of(2032, clean, susceptible)})
            .tests[1]
            .since_first == std::nullopt);
}

TEST_CASE("A test of few eggs takes part: its law is as wide as it must be") {
  const FarmCourse hill = course({test_of(2030, good, susceptible),
                                  barred(test_of(2031, good, susceptible), BarCode::few_eggs)});
  CHECK(hill.tests[1].left_out.empty());
  CHECK(hill.tests[1].since_first);
}

TEST_CASE("Every bar either leaves the fall the drench's own or keeps the test out") {
  for (const BarCode code : all_bar_codes) {
    const FarmCourse hill =
        course({test_of(2030, good, susceptible), barred(test_of(2031, good, susceptible), code)});
    const bool takes_part = code == BarCode::few_animals || code == BarCode::few_eggs ||
                            code == BarCode::narrow_drench || code == BarCode::surviving_worm;
    INFO(to_string(code));
    CHECK(hill.tests[1].left_out.empty() == takes_part);
  }
}

TEST_CASE("Tests of one time are of a course, but not compared with each other") {
  const FarmCourse hill = course({test_of(2030, good, susceptible),
                                  test_of(2031, good, susceptible), test_of(2031, bad, resistant)});
  REQUIRE(hill.tests.size() == 3);
  CHECK(hill.tests[1].since_last == hill.tests[1].since_first);
  CHECK(hill.tests[2].since_last == hill.tests[2].since_first);
}

TEST_CASE("Days of one year are told apart") {
  SurveyRow spring = test_of(2030, good, susceptible);
  SurveyRow autumn = test_of(2030, bad, resistant);
  spring.dated.day = std::chrono::sys_days(std::chrono::year(2030) / 3 / 1);
  autumn.dated.day = std::chrono::sys_days(std::chrono::year(2030) / 9 / 1);
  const FarmCourse hill = course({autumn, spring});
  CHECK(hill.tests[0].day == "2030-03-01");
  CHECK(hill.tests[1].since_first->any > 0.99);
}

TEST_CASE("A test of no known day stands in no other test's way, in any order of the rows") {
  const SurveyRow undated = test_of(2030, bad, resistant);
  SurveyRow may = test_of(2030, good, susceptible);
  SurveyRow june = test_of(2030, worse, low_resistant);
  may.dated.day = std::chrono::sys_days(std::chrono::year(2030) / 5 / 1);
  june.dated.day = std::chrono::sys_days(std::chrono::year(2030) / 6 / 1);
  const FarmCourse hill = course({may, june, undated});
  REQUIRE(hill.tests.size() == 3);
  CHECK_FALSE(hill.tests[0].since_first);
  CHECK_FALSE(hill.tests[1].since_first); // the undated one may be the later
  REQUIRE(hill.tests[2].since_first);
  CHECK(hill.tests[2].since_first == hill.tests[2].since_last); // both are since May
  CHECK(hill.tests[2].since_first->any > 0.9);
  CHECK(course({undated, may, june}) == hill);
  CHECK(course({june, undated, may}) == hill);
  CHECK(courses_of({undated, may}).empty());
}

TEST_CASE("Rows without a farm, a time or a drench are of no course, nor is a single time") {
  SurveyRow no_farm = test_of(2031, good, susceptible);
  no_farm.group.farm.clear();
  SurveyRow no_year = test_of(2031, good, susceptible);
  no_year.dated.year.reset();
  SurveyRow no_drench = test_of(2031, good, susceptible);
  no_drench.group.drench.clear();
  CHECK(courses_of({test_of(2030, good, susceptible), no_farm, no_year, no_drench}).empty());
  CHECK(courses_of({test_of(2030, good, susceptible), test_of(2030, good, susceptible)}).empty());
}

TEST_CASE("Drenches, hosts and worms have courses of their own") {
  SurveyRow goats = test_of(2031, good, susceptible);
  goats.group.host = "goats";
  CHECK(courses_of({test_of(2030, good, susceptible), goats}).empty());
  SurveyRow other_case = test_of(2031, good, susceptible);
  other_case.group.drench = "WHITE DRENCH";
  CHECK(courses_of({test_of(2030, good, susceptible), other_case}).size() == 1);
}

TEST_CASE("The words of courses can be read back") {
  for (const CourseWord word : all_course_words)
    CHECK(parse_course_word(to_string(word)) == word);
}
