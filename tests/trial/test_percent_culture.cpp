#include "trial/percent_culture.hpp"

#include "support/support.hpp"

#include <cmath>
#include <string>
#include <variant>
#include <vector>

using namespace eggfall;

namespace {

std::vector<WormPercentage> percentages(const std::vector<double>& percent) {
  std::vector<WormPercentage> worms;
  for (std::size_t i = 0; i < percent.size(); ++i)
    worms.push_back({"worm " + std::to_string(i), {percent[i], false, 0}});
  return worms;
}

bool is_refused(const std::vector<double>& percent, std::uint32_t told_apart, double rounded_to) {
  return std::holds_alternative<NoCulture>(
      percent_culture(percentages(percent), told_apart, rounded_to));
}

} // namespace

TEST_CASE("Percentages are read as laboratories write them") {
  CHECK(parse_percentage("62") == ToldPercentage{62, false, 0});
  CHECK(parse_percentage(" 62.5 % ") == ToldPercentage{62.5, false, 1});
  CHECK(parse_percentage("<1") == ToldPercentage{1, true, 0});
  CHECK(parse_percentage("< 0.5%") == ToldPercentage{0.5, true, 1});
  CHECK(parse_percentage("0") == ToldPercentage{0, false, 0});
  CHECK(parse_percentage("100") == ToldPercentage{100, false, 0});
  for (const char* none : {"", "%", "<", "trace", "present", "+", "101", "-1", "<0", "1e1", "62%%",
                           "> 5", "nan", "5-10"}) {
    INFO(none);
    CHECK_FALSE(parse_percentage(none));
  }
}

TEST_CASE("Every number of larvae comes back from its rounded percentage") {
  // All splits of n larvae in two worms, rounded as R's and a hand's round() would (halves away
  // from zero): enumerated, so no formula of the project's is asked.
  for (std::uint32_t n = 1; n <= 100; ++n)
    for (std::uint32_t larvae = 0; larvae <= n; ++larvae) {
      const double first = std::floor(100.0 * larvae / n + 0.5);
      const double second = std::floor(100.0 * (n - larvae) / n + 0.5);
      CAPTURE(n, larvae, first, second);
      const auto made = percent_culture(percentages({first, second}), n, 1);
      REQUIRE(std::holds_alternative<Culture>(made));
      const Culture& culture = std::get<Culture>(made);
      if (!culture.percentages) {
        CHECK(culture.worms[0].larvae == larvae);
        CHECK(culture.worms[1].larvae == n - larvae);
      } else {
        // Two numbers of 100 and fewer give one percentage only where both lie half-way: one of
        // them is the truth.
        CHECK(culture.worms[0].open->least <= larvae);
        CHECK(culture.worms[0].open->most >= larvae);
        CHECK(culture.worms[0].open->most - culture.worms[0].open->least <= 1);
      }
    }
}

TEST_CASE("Percentages leave open what a brute-force search finds") {
  // All triples of whole numbers that sum to n and round to the percentages, by enumeration.
  for (const auto& [n, percent, rounded_to] :
       {std::tuple{200U, std::vector<double>{33, 33, 34}, 1.0},
        std::tuple{150U, std::vector<double>{60, 30, 10}, 5.0},
        std::tuple{100U, std::vector<double>{95, 5, 0}, 5.0},
        std::tuple{37U, std::vector<double>{35, 35, 30}, 5.0}}) {
    CAPTURE(n, rounded_to);
    std::vector<LarvaeRange> found(3, {1e9, -1});
    // A share half-way between two percentages is so but for its rounding in binary.
    const auto fits = [&](std::uint32_t larvae, double told) {
      return std::abs(100.0 * larvae / n - told) <= rounded_to / 2 + support::other_order;
    };
    for (std::uint32_t i = 0; i <= n; ++i)
      for (std::uint32_t j = 0; i + j <= n; ++j)
        if (const std::uint32_t k = n - i - j;
            fits(i, percent[0]) && fits(j, percent[1]) && fits(k, percent[2])) {
          const std::vector<std::uint32_t> larvae{i, j, k};
          for (std::size_t w = 0; w < 3; ++w)
            found[w] = {std::min(found[w].least, static_cast<double>(larvae[w])),
                        std::max(found[w].most, static_cast<double>(larvae[w]))};
        }
    const auto made = percent_culture(percentages(percent), n, rounded_to);
    REQUIRE(std::holds_alternative<Culture>(made));
    for (std::size_t w = 0; w < 3; ++w) {
      const WormLarvae& worm = std::get<Culture>(made).worms[w];
      CHECK(worm.open.value_or(LarvaeRange{worm.larvae, worm.larvae}) == found[w]);
    }
  }
}

TEST_CASE("Percentages that cannot be are refused") {
  CHECK(is_refused({62, 38}, 10, 1)); // 6 of 10 are 60%, 7 are 70%
  CHECK_FALSE(is_refused({60, 40}, 10, 1));
  CHECK_FALSE(is_refused({62, 38}, 10, 5)); // 60% within 2.5
  CHECK(is_refused({50, 30}, 10, 1));       // 80% in all
  CHECK(is_refused({66, 33}, 3, 1));        // cut and not rounded: 2 of 3 are 67%
  CHECK_FALSE(is_refused({67, 33}, 3, 1));
  CHECK(std::holds_alternative<NoCulture>(percent_culture(percentages({50, 30}), {}, 1)));
  CHECK(std::holds_alternative<Culture>(percent_culture(percentages({33, 33, 33}), {}, 1)));
  CHECK(std::holds_alternative<NoCulture>(percent_culture(percentages({33, 33, 32}), {}, 1)));
}

TEST_CASE("What percentages are rounded to is seen of all of a table") {
  CHECK(rounding_of({{60, false, 0}, {40, false, 0}, {1, true, 0}}) == 5);
  CHECK(rounding_of({{60, false, 0}, {39, false, 0}}) == 1);
  CHECK(rounding_of({{60, false, 0}, {39.25, false, 2}}) == 0.01);
}

TEST_CASE("Percentages that a workbook holds as parts of one are told as such") {
  for (const std::vector<double>& parts : {std::vector<double>{0.6, 0.4}, std::vector<double>{1}}) {
    const auto made = percent_culture(percentages(parts), {}, 0.1);
    REQUIRE(std::holds_alternative<NoCulture>(made));
    const NoCulture& none = std::get<NoCulture>(made);
    CHECK(none.found == "percentages written as parts of one, which sum to 1,");
    CHECK(
        none.expected ==
        "percentages that sum to 100%: 60, and not 0.6 (a cell that a workbook shows as 60% by its "
        "format holds 0.6: write 60 into a cell without that format)");
  }
  const auto other = percent_culture(percentages({1, 1}), {}, 1);
  CHECK(std::get<NoCulture>(other).found == "percentages that sum to 2%");
}
