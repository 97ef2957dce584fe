#include "teach/students/student_answers.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/students/hand_calculation.hpp"
#include "teach/students/invented_students.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_students;

namespace {

pugi::xml_document parsed(const StudentPack& pack) {
  pugi::xml_document page;
  REQUIRE(page.load_string(answers_page(pack).c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return page;
}

std::string words_of_page(const StudentPack& pack) {
  return support::words_of(parsed(pack));
}

/// The cells of each worksheet's row, by what the column is headed.
std::vector<std::map<std::string, std::string>> rows_of(const StudentPack& pack) {
  const pugi::xml_document page = parsed(pack);
  std::vector<std::string> heads;
  for (const auto& head : page.select_nodes("//table/thead/tr/th"))
    heads.emplace_back(head.node().text().get());
  std::vector<std::map<std::string, std::string>> rows;
  for (const auto& row : page.select_nodes("//table/tbody/tr")) {
    std::size_t column = 0;
    for (const pugi::xml_node cell : row.node().children()) {
      REQUIRE(column < heads.size());
      if (column == 0)
        rows.emplace_back();
      rows.back()[heads[column++]] = cell.text().get();
    }
  }
  return rows;
}

/// The formulas with a worksheet's numbers in them.
std::vector<std::string> formulas_of(const StudentPack& pack) {
  const pugi::xml_document page = parsed(pack);
  std::vector<std::string> lines;
  for (const auto& math : page.select_nodes("//li/math"))
    lines.push_back(std::string(math.node().parent().first_child().value()) +
                    math.node().attribute("aria-label").value());
  return lines;
}

/// A class of one, whose counts are these.
StudentPack with_counts(const std::vector<std::uint32_t>& treated,
                        const std::vector<std::uint32_t>& control) {
  StudentPack pack = three_students();
  pack.worksheets.resize(1);
  pack.worksheets.front().hand =
      hand_calculation(support::counts(treated, 50), support::counts(control, 50), 0.95);
  return pack;
}

} // namespace

TEST_CASE("class answers: every worksheet has a line of one table, and the truth stands above") {
  const StudentPack pack = three_students();
  CHECK(parsed(pack).select_nodes("//table").size() == 1);
  const auto rows = rows_of(pack);
  REQUIRE(rows.size() == 3);
  CHECK(rows[2].at("Worksheet") == "Sheet 3");
  CHECK_THAT(words_of_page(pack), Catch::Contains("the white drench (BZ) removes 93.0% here") &&
                                      Catch::Contains("--level 95 --seed 3"));
}

TEST_CASE("class answers: the table has every step, and one worksheet is worked out in full") {
  // The worked example of tests/teach/students/test_hand_calculation.cpp, whose limits are from R:
  // means 8/12 and 199/12; s^2 = (16 - 64/12) / 11; share = s^2 / (12 (8/12)^2).
  const StudentPack pack = with_counts(trial_a::after, trial_a::control);
  const auto row = rows_of(pack).front();
  CHECK(row.at("T sum of x") == "8");
  CHECK(row.at("T sum of squares") == "16");
  CHECK(row.at("T mean") == "0.6667");
  CHECK(row.at("T EPG") == "33.33");
  CHECK(row.at("T variance") == "0.9697");
  CHECK(row.at("T share") == "0.1818");
  CHECK(row.at("U mean") == "16.58");
  CHECK(row.at("U share") == "0.05066");
  CHECK(row.at("Ratio") == "0.0402");
  CHECK(row.at("Fall") == "96.0%");
  CHECK(row.at("Y") == "0.2325");
  CHECK(row.at("Reach") == "2.718");
  CHECK(row.at("Lower limit") == "89.1%");
  CHECK(row.at("Upper limit") == "98.5%");
  const std::vector<std::string> lines = formulas_of(pack);
  REQUIRE(lines.size() == 12); // three of each group, and six of both
  CHECK(lines[0] == "Mean, treated = 8 / 12 = 0.6667");
  CHECK(lines[1] == "Variance, treated = (16 \u2212 8 squared / 12) / (12 \u2212 1) = 0.9697");
  CHECK(lines[2] == "Share, treated = 0.9697 / (12 \u00d7 0.6667 squared) = 0.1818");
  CHECK(lines[6] == "Ratio = 0.6667 / 16.58 = 0.0402");
  CHECK(lines[7] == "Fall = 100 \u00d7 (1 \u2212 0.0402) = 96.0%");
  CHECK(lines[8] == "Y = 0.1818 + 0.05066 = 0.2325");
  CHECK(lines[9] == "Reach = exp (2.074 \u00d7 root of 0.2325) = 2.718");
  CHECK(lines[10] == "Lower limit = 100 \u00d7 (1 \u2212 0.0402 \u00d7 2.718) = 89.1%");
  CHECK(lines[11] == "Upper limit = 100 \u00d7 (1 \u2212 0.0402 / 2.718) = 98.5%");
}

TEST_CASE("class answers: where the formula must stop the answer says so") {
  const StudentPack none_left = with_counts({0, 0}, {3, 4});
  CHECK(rows_of(none_left).front().at("Fall") == "100.0%");
  for (const char* step : {"Y", "Reach", "Lower limit", "Upper limit", "T share"})
    CHECK(rows_of(none_left).front().at(step) == "none");
  CHECK(formulas_of(none_left).empty());
  CHECK_THAT(words_of_page(none_left), Catch::Contains("No limits by hand on sheet 1: no egg was "
                                                       "found in the treated animals"));
  const StudentPack none_at_all = with_counts({1, 0}, {0, 0});
  for (const char* step : {"Ratio", "Fall", "Y", "Reach", "Lower limit", "Upper limit"})
    CHECK(rows_of(none_at_all).front().at(step) == "none");
  CHECK_THAT(words_of_page(none_at_all), Catch::Contains("no egg was found in the untreated"));
}

TEST_CASE("class answers: each interval is told to hold the truth, to miss it, or not to be") {
  StudentPack pack = three_students();
  pack.worksheets.resize(1);
  Worksheet& sheet = pack.worksheets.front();
  set_limits(sheet, Method::log_ratio_1992, 0.94, 0.99); // the truth is 93%
  set_limits(sheet, Method::guarded_posterior, 0.801, 0.93);
  CHECK(rows_of(pack).front().at("By hand") == "misses");
  CHECK(rows_of(pack).front().at("Posterior limits") == "80.1% to 93.0%");
  CHECK(rows_of(pack).front().at("Posterior") == "holds");
  CHECK(parsed(pack).select_nodes("//td[@class='miss']").size() == 1);
  set_limits(sheet, Method::log_ratio_1992, {}, {});
  set_limits(sheet, Method::guarded_posterior, {}, {});
  CHECK(rows_of(pack).front().at("By hand") == "no limits");
  CHECK(rows_of(pack).front().at("Posterior limits") == "no limits");
  CHECK(rows_of(pack).front().at("Posterior") == "no limits");
}
