#include "survey/course_text.hpp"

#include "base/text.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <sstream>
#include <string>

using namespace eggfall;

namespace {

FarmCourse slipping_course() {
  FarmCourse course;
  course.key = {"Hill, \"upper\"", "white drench", "sheep", "haemonchus"};
  course.word = CourseWord::slipping;
  CourseTest first;
  first.trial_number = 3;
  first.trial = "Hill";
  first.group = "white";
  first.year = 2030;
  first.reduction = 0.991;
  first.lower = 0.977;
  first.upper = 1;
  first.standing = VerdictClass::susceptible;
  CourseTest second = first;
  second.year = 2031;
  second.day = "2031-05-03";
  second.reduction = 0.93;
  second.standing = VerdictClass::inconclusive;
  second.since_first = second.since_last = EfficacyDrop{0.997, 0.8};
  CourseTest third = second;
  third.day = "2032-05-03";
  third.left_out = "day";
  third.since_first.reset();
  third.since_last.reset();
  course.tests = {first, second, third};
  return course;
}

} // namespace

TEST_CASE("A course that slips is shown test by test, within 80 columns") {
  const std::string text = courses_text({slipping_course()});
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    CHECK(character_count(line) <= 80);
  CHECK(text.find("lost 0, slipping 1, too little to tell 0, holding 0") != std::string::npos);
  CHECK(text.find("Hill, \"upper\", white drench, sheep, haemonchus: slipping") !=
        std::string::npos);
  CHECK(text.find("2031-05-03  93.0") != std::string::npos);
  CHECK(text.find("over 99") != std::string::npos);
  CHECK(text.find("cannot tell") != std::string::npos);
  CHECK(text.find("Next, for a drench that slips") != std::string::npos);
}

TEST_CASE("Courses that hold are counted alone, and none gives no text") {
  FarmCourse course = slipping_course();
  course.word = CourseWord::holding;
  const std::string text = courses_text({course});
  CHECK(text.find("white drench: holding 1") != std::string::npos);
  CHECK(text.find("Hill") == std::string::npos);
  CHECK(text.find("Lost or slipping") == std::string::npos);
  CHECK(courses_text({}).empty());
}

TEST_CASE("More courses than a screen holds are counted") {
  const std::string text = courses_text(std::vector<FarmCourse>(23, slipping_course()));
  CHECK(text.find("... and 3 more (--years FILE writes all).") != std::string::npos);
}

TEST_CASE("The years of farms as CSV have a line a test, and empty cells for what is not known") {
  const std::string csv = courses_csv({slipping_course()});
  std::istringstream lines(csv);
  std::string head;
  std::string first;
  std::string second;
  std::string third;
  std::getline(lines, head);
  std::getline(lines, first);
  std::getline(lines, second);
  std::getline(lines, third);
  CHECK(std::ranges::count(head, ',') == 18);
  CHECK(first ==
        "\"Hill, \"\"upper\"\"\",white drench,sheep,haemonchus,slipping,3,Hill,white,2030,,"
        "99.100000,97.700000,100.000000,susceptible,,,,,\r");
  CHECK(second.ends_with(",2031,2031-05-03,93.000000,97.700000,100.000000,inconclusive,,"
                         "99.700000,80.000000,99.700000,80.000000\r"));
  CHECK(third.ends_with(",inconclusive,day,,,,\r"));
}

TEST_CASE("Drenches that failed from the first test on, and those too little to tell, are named") {
  FarmCourse failing = slipping_course();
  failing.word = CourseWord::lost;
  for (CourseTest& test : failing.tests)
    test.standing = VerdictClass::resistant;
  FarmCourse unsure = slipping_course();
  unsure.key.farm = "Dale";
  unsure.word = CourseWord::too_little_to_tell;
  std::string text = courses_text(std::vector<FarmCourse>(13, failing));
  std::ranges::replace(text, '\n', ' ');
  CHECK(text.find("Failing since the first test, 13: Hill, \"upper\" (white drench), ") !=
        std::string::npos);
  CHECK(text.find(" and 1 more.") != std::string::npos);
  CHECK(courses_text({unsure}).find("Too little to tell, 1: Dale (white drench).") !=
        std::string::npos);
}
