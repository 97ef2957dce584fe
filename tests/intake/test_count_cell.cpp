#include "intake/count_cell.hpp"

#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;

namespace {

/// "12", "1.2 or 1200", "below 50", "none seen", "no count"; then its unit and its remark.
std::string said(const std::string& text, const Layout& layout = {}) {
  const CountCell cell = read_count_cell(text, layout);
  std::string out;
  switch (cell.says) {
  case CountCell::Says::nothing:
    return "nothing";
  case CountCell::Says::none_seen:
    return "none seen";
  case CountCell::Says::not_sampled:
    return "not sampled";
  case CountCell::Says::two_readings:
    return "either";
  case CountCell::Says::no_count:
    return "no count";
  case CountCell::Says::below:
    out = "below ";
    break;
  case CountCell::Says::number:
    break;
  }
  out += fmt::format("{:g}", cell.value);
  if (cell.thousands)
    out += fmt::format(" or {:g}", *cell.thousands);
  if (cell.unit)
    out += fmt::format(" {}", to_string(*cell.unit));
  if (!cell.remark.empty())
    out += " {" + cell.remark + "}";
  return out;
}

} // namespace

TEST_CASE("A whole number is a count, and an empty cell none") {
  CHECK(said("0") == "0");
  CHECK(said("350") == "350");
  CHECK(said(" 12 ") == "12");
  CHECK(said("") == "nothing");
  CHECK(said("  ") == "nothing");
}

TEST_CASE("A mark in a number may part thousands or stand before a fraction") {
  CHECK(said("1,200") == "1.2 or 1200");
  CHECK(said("1.200") == "1.2 or 1200");
  CHECK(said("1 200") == "1200");
  CHECK(said("1'200") == "1200");
  CHECK(said("12,5") == "12.5");
  CHECK(said("33.33") == "33.33");
  CHECK(said("1,200.5") == "1200.5");
  CHECK(said("1.200,5") == "1200.5");
  CHECK(said("1,234,567") == "1.23457e+06");
  CHECK(said("0,200") == "0.2"); // no number begins with 0 thousand
  CHECK(said("123,456") == "123.456 or 123456");
  CHECK(said("1234,567") == "1234.57"); // four digits are no thousands
  CHECK(read_count_cell("33.30", {}).decimals == 2);
  CHECK(read_count_cell("1 200", {}).marked);
  CHECK_FALSE(read_count_cell("1200", {}).marked);
}

TEST_CASE("Numbers that marks part in another way are none") {
  for (const char* text : {"1,20,0", "12 15", "1 20", "1.2.3", "1,2,3", "1,200,50", "1.200.5",
                           "1 2345", "1,20.5", ",5", ".5", "'5"})
    CHECK(said(text) == "no count");
}

TEST_CASE("Fewer than a number is told from the number, and from no more than it") {
  CHECK(said("<50") == "below 50");
  CHECK(said("< 50 epg") == "below 50 epg");
  CHECK(said("<1") == "below 1");
  // One egg may have been seen.
  CHECK(said("<=50") == "no count");
  CHECK(said("\xE2\x89\xA4"
             "50") == "no count");
  CHECK(said(">2000") == "no count");
}

TEST_CASE("Words are no number, and those of two meanings are not guessed") {
  CHECK(said("neg") == "none seen");
  CHECK(said("n/s") == "not sampled");
  CHECK(said("nd") == "either");
  CHECK(said("-") == "either");
  CHECK(said("?") == "either");
  CHECK(said("many") == "no count");
  CHECK(said("TNTC") == "no count");
}

TEST_CASE("The owner's own words go first, even for what looks like a number") {
  const Layout own = support::layout_of(
      {{"cell", "nd=not-sampled"}, {"cell", "<50=none-seen"}, {"cell", "<=50=none-seen"}});
  CHECK(said("ND", own) == "not sampled");
  CHECK(said("<50", own) == "none seen");
  CHECK(said("<=50", own) == "none seen");
}

TEST_CASE("A unit or a remark may follow a number, but no more of a number") {
  CHECK(said("12 eggs") == "12 eggs");
  CHECK(said("350 EPG") == "350 epg");
  CHECK(said("350epg") == "350 epg");
  CHECK(said("150 (few larvae)") == "150 {(few larvae)}");
  CHECK(said("150*") == "150 {*}");
  CHECK(said("150 soft") == "150 {soft}");
  CHECK(said("150#") == "150 {#}");
  CHECK(said("150; soft") == "150 {; soft}");
  for (const std::string letter : {"a", "z", "A", "Z", "\xC3\xA4"})
    CHECK(said("5 " + letter) == "5 {" + letter + "}");
  for (const char* text : {"12/15", "2 x 50", "0-50", "-50", "12 15", "100 (2 slides)", "5?", "50+",
                           "1e3", "3 %", "+", "x50", "12..", "1,"})
    CHECK(said(text) == "no count");
}

TEST_CASE("Letters right behind digits are a unit or a slip, and never left out") {
  CHECK(said("12eggs") == "12 eggs");
  CHECK(said("50epg") == "50 epg");
  for (const char* text : {"1oo", "3OO", "15O", "5soft"})
    CHECK(said(text) == "no count");
  CHECK(said("5 soft") == "5 {soft}");
  CHECK(said("5*") == "5 {*}");
}

TEST_CASE("A rounded EPG stands for the whole eggs behind it") {
  CHECK(eggs_of_rounded(666, 0, 33.3) == 20);
  CHECK(eggs_of_rounded(667, 0, 33.3) == 20);
  CHECK(eggs_of_rounded(33, 0, 33.3) == 1);
  CHECK(eggs_of_rounded(0, 0, 33.3) == 0);
  CHECK(eggs_of_rounded(66.7, 1, 33.33) == 2);
  CHECK(eggs_of_rounded(450, 0, 50) == 9);
  CHECK(eggs_of_rounded(50.0, 1, 50) == 1);
  // Up to half of the last digit is hidden, and so is half of the factor's times the eggs.
  CHECK(eggs_of_rounded(8.2, 1, 8.151) == 1);
  CHECK(eggs_of_rounded(666.95, 2, 33.3) == 20);
}

TEST_CASE("An EPG that is no multiple, or of which rounding hides the eggs, stands for none") {
  CHECK_FALSE(eggs_of_rounded(449, 0, 50));
  CHECK_FALSE(eggs_of_rounded(20, 0, 50));
  CHECK_FALSE(eggs_of_rounded(50, 0, 33.3));
  CHECK_FALSE(eggs_of_rounded(7.5, 1, 15));
  // 33.3 stands for 33.25 to 33.35: of 400 eggs and more the next could be meant too.
  CHECK_FALSE(eggs_of_rounded(33.3 * 400, 0, 33.3));
  CHECK(eggs_of_rounded(33.3 * 300, 0, 33.3) == 300);
}
