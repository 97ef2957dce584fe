#include "formats/csv_separator.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

namespace {

std::string repeated(const std::string& text, int times) {
  std::string all;
  for (int i = 0; i < times; ++i)
    all += text;
  return all;
}

} // namespace

TEST_CASE("A table is parted by what most of its rows hold equally often") {
  CHECK(separator_of("ear,before,after\n401,12,0\n") == ',');
  CHECK(separator_of("ear;before;after\n401;12;0\n") == ';');
  CHECK(separator_of("ear\tbefore\tafter\r\n401\t12\t0\r\n") == '\t');
  CHECK(separator_of("ear;before;after\r401;12;0\r") == ';');
}

TEST_CASE("Title lines above the header do not choose the separator") {
  const std::string titles = "Our laboratory, Main Street 1, Anytown, phone 12\n"
                             "Ewes, lambs, hoggets, and some more, of May\n\n";
  CHECK(separator_of(titles + "ear;eggs\n401;12\n402;0\n403;7\n") == ';');
  CHECK(separator_of("Received; 3 May; by post\near,eggs\n401,12\n402,0\n") == ',');
  // A spreadsheet pads the titles to the table's width.
  CHECK(separator_of("Ewes, May;;\n;;\near;before;after\n401;12;0\n") == ';');
}

TEST_CASE("Decimal commas in a semicolon table do not choose the separator") {
  CHECK(separator_of("kg;ml;factor\n" + repeated("45,5;6,5;16,5\n", 20)) == ';');
  // As many rows have one decimal comma as have semicolons: the titles would turn the scale.
  CHECK(separator_of("Farm A, May\nRam lambs, first\near;kg\n" + repeated("401;45,5\n", 5)) == ';');
  // Rows that end early.
  CHECK(separator_of("ear;kg;notes\n401;45,5\n402;38,5;lame\n403;41,5\n404;39,5;thin\n") == ';');
  CHECK(separator_of("ear\tkg\n" + repeated("401\t45,5\n", 5)) == '\t');
}

TEST_CASE("Thousands in quotes, and notes, do not choose the separator") {
  CHECK(separator_of("ear;epg\n" + repeated("401;\"1,250\"\n", 5)) == ';');
  CHECK(separator_of("ear,epg\n" + repeated("401,\"1,250\"\n", 5)) == ',');
  CHECK(separator_of("ear;eggs;notes\n401;12;lame, thin, old\n402;0;\n403;7;scour, thin\n") == ';');
  CHECK(separator_of("ear,eggs,notes\n401,12,lame; thin\n402,0,\n403,7,scour; old\n") == ',');
  CHECK(separator_of("ear;notes\n401;\"lame,\nthin,\nold,\"\n402;\"a,\nb,\nc,\"\n") == ';');
}

TEST_CASE("Where as many rows speak for each, a tab comes before a semicolon before a comma") {
  CHECK(separator_of("a\tb;c,d\n") == '\t');
  CHECK(separator_of("a;b,c\n") == ';');
}

TEST_CASE("A text of one column has a comma, that parts nothing") {
  CHECK(separator_of("") == ',');
  CHECK(separator_of("ear\n401\n402\n") == ',');
}

TEST_CASE("Only the first hundred rows that are not blank are looked at") {
  const std::string rows = repeated("a,b\n\n", 100);
  CHECK(separator_of(rows + repeated("a;b\n", 1'000)) == ',');
  CHECK(separator_of(repeated("a,b\n\n", 40) + repeated("a;b\n", 1'000)) == ';');
}

TEST_CASE("A first line may name the separator") {
  CHECK(named_separator("sep=;\r\na;b\n") == ';');
  CHECK(named_separator("SEP=|\n") == '|');
  CHECK(named_separator("sep=\t\na\tb\n") == '\t');
  CHECK(named_separator("sep=\na,b\n") == '\0');
  CHECK(named_separator("sep=;;\n") == '\0');
  CHECK(named_separator("sep=\"\n") == '\0');
  CHECK(named_separator("ear,eggs\n") == '\0');
  CHECK(named_separator("") == '\0');
}
