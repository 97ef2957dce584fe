#include "teach/class/student_answers.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/class/hand_calculation.hpp"
#include "teach/class/invented_class.hpp"

#include <pugixml.hpp>

#include <cstdint>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_class;

namespace {

std::string words_of_page(const StudentPack& pack) {
  pugi::xml_document page;
  REQUIRE(page.load_string(answers_page(pack).c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return support::words_of(page);
}

/// A class of one, whose counts are these.
StudentPack with_counts(const std::vector<std::uint32_t>& treated,
                        const std::vector<std::uint32_t>& control) {
  StudentPack pack = class_of_three();
  pack.sheets.resize(1);
  pack.sheets.front().hand =
      hand_calculation(support::counts(treated, 50), support::counts(control, 50), 0.95);
  return pack;
}

} // namespace

TEST_CASE("class answers: every worksheet has one, and the truth stands above them") {
  const StudentPack pack = class_of_three();
  CHECK(times(answers_page(pack), "<h2>Worksheet ") == 3);
  CHECK_THAT(words_of_page(pack), Catch::Contains("the white drench (BZ) removes 93.0% here") &&
                                      Catch::Contains("--level 95 --seed 3"));
}

TEST_CASE("class answers: the arithmetic is written out step by step") {
  // The worked example of tests/teach/class/test_hand_calculation.cpp, whose limits are from R:
  // means 8/12 and 199/12; s^2 = (16 - 64/12) / 11; share = s^2 / (12 (8/12)^2).
  const std::string words = words_of_page(with_counts(trial_a::after, trial_a::control));
  for (const char* part :
       {"Treated 12 8 16 0.6667 33.33 0.9697 0.1818 ", "Ratio = 0.6667 / 16.58 = 0.0402 ",
        "Fall = 100 times (1 - 0.0402) = 96.0% ", "Y = 0.1818 + 0.05066 = 0.2325 ",
        "Reach = exp(2.074 times 0.4822) = 2.718 ", "= 89.1%; upper limit = ", " = 98.5% "}) {
    INFO(part);
    CHECK_THAT(words, Catch::Contains(part));
  }
}

TEST_CASE("class answers: where the formula must stop the answer says so") {
  const std::string none_left = words_of_page(with_counts({0, 0}, {3, 4}));
  CHECK_THAT(none_left, Catch::Contains("Fall = 100 times (1 - 0) = 100.0%") &&
                            Catch::Contains("No limits: ") && !Catch::Contains("Reach"));
  const std::string none_at_all = words_of_page(with_counts({1, 0}, {0, 0}));
  CHECK_THAT(none_at_all, Catch::Contains("No fall and no limits: ") && !Catch::Contains("Ratio"));
}

TEST_CASE("class answers: each interval is told to hold the truth, to miss it, or not to be") {
  StudentPack pack = class_of_three();
  pack.sheets.resize(1);
  Worksheet& sheet = pack.sheets.front();
  set_limits(sheet, Method::log_ratio_1992, 0.94, 0.99); // the truth is 93%
  set_limits(sheet, Method::guarded_posterior, 0.801, 0.93);
  CHECK_THAT(words_of_page(pack),
             Catch::Contains("By hand, it misses the truth.") &&
                 Catch::Contains("at 95% too: 80.1% to 93.0%; it holds the truth."));
  set_limits(sheet, Method::log_ratio_1992, {}, {});
  set_limits(sheet, Method::guarded_posterior, {}, {});
  CHECK_THAT(words_of_page(pack), Catch::Contains("By hand, there is no interval.") &&
                                      Catch::Contains("too: no limits; there is no interval."));
}
