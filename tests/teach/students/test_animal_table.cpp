#include "teach/students/animal_table.hpp"

#include "support/support.hpp"

#include <string>
#include <vector>

using namespace eggfall;

namespace {

using Rows = std::vector<std::vector<std::string>>;

/// Three animals beside one, whose numbers are given as support::group() does.
HtmlTable three_beside_one() {
  static const Group treated = support::group("white", {4, 0, 12}, {1, 0, 3}, 50, 12.5);
  static const Group control = support::group("rest", {}, {7}, 50, 50);
  return animal_table("Eggs", {{treated,
                                {tags("Treated"), eggs("Eggs", &Animal::after),
                                 epg("EPG", &Animal::after), blank("x times x")}},
                               {control, {tags("Untreated"), eggs("Seen", &Animal::after)}}});
}

} // namespace

TEST_CASE("animal table: groups stand side by side, and a shorter one leaves cells empty") {
  const HtmlTable table = three_beside_one();
  CHECK(table.running_head == "Eggs");
  CHECK(table.heads ==
        std::vector<std::string>{"Treated", "Eggs", "EPG", "x times x", "Untreated", "Seen"});
  // One egg after treatment stands for 12.5 EPG.
  CHECK(table.rows == Rows{{"1", "1", "12.5", "", "1", "7"},
                           {"2", "0", "0", "", "", ""},
                           {"3", "3", "37.5", "", "", ""}});
}

TEST_CASE("animal table: columns show the occasion that they are asked for") {
  const Group group = support::group("white", {4, 9}, {1, 0}, 50, 10);
  const HtmlTable table =
      animal_table("", {{group,
                         {eggs("Before", &Animal::before), eggs("After", &Animal::after),
                          epg("EPG before", &Animal::before)}}});
  CHECK(table.rows == Rows{{"4", "1", "200"}, {"9", "0", "450"}});
  CHECK(animal_table("", {}).rows.empty());
}

TEST_CASE("animal table: a line for sums stands where it is asked for, with empty cells") {
  HtmlTable table = three_beside_one();
  add_sum_row(table, 2, "Sum of 2", {0, 4});
  add_sum_row(table, table.rows.size(), "Sum");
  REQUIRE(table.rows.size() == 5);
  CHECK(table.rows[1].front() == "2");
  CHECK(table.rows[2] == std::vector<std::string>{"Sum of 2", "", "", "", "Sum of 2", ""});
  CHECK(table.rows[3].front() == "3");
  CHECK(table.rows[4] == std::vector<std::string>{"Sum", "", "", "", "", ""});
}
