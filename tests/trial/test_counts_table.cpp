#include "trial/counts_table.hpp"

#include "support/support.hpp"

#include <chrono>
#include <string>
#include <vector>

using namespace eggfall;

namespace {

Trial invented() {
  Trial trial{"x", {}};
  trial.groups.push_back(support::group("white", {12, 3}, {1, 0}, 50, 25));
  Group& white = trial.groups.back();
  white.classes = {DrugClass::bz, DrugClass::lv};
  white.animals[1].after.reset();
  white.animals[1].weight_kg = 31.5;
  white.animals[1].date_treated =
      std::chrono::year(2031) / std::chrono::March / std::chrono::day(3);
  trial.groups.push_back(support::group("none", {5}, {6}, 50, 25));
  trial.groups.back().role = Role::control;
  trial.groups.back().host.clear();
  return trial;
}

} // namespace

TEST_CASE("A counts table has the columns that some animal needs, and no others") {
  // Written out by hand from docs/data-format.md.
  CHECK(counts_table({invented()}) ==
        "group,animal,role,class,host,eggs_before,factor_before,eggs_after,factor_after,weight_kg,"
        "date_treated\r\n"
        "white,1,,BZ+LV,sheep,12,50,1,25,,\r\n"
        "white,2,,BZ+LV,sheep,3,50,,,31.5,2031-03-03\r\n"
        "none,1,control,,,5,50,6,25,,\r\n");
}

TEST_CASE("A counts table of nobody sampled has its columns of counts all the same") {
  Trial trial{"x", {support::group("white", {}, {})}};
  trial.groups[0].animals.emplace_back();
  trial.groups[0].animals[0].tag = "1";
  CHECK(counts_table({trial}) == "group,animal,host,eggs_before,eggs_after\r\nwhite,1,sheep,,\r\n");
}

TEST_CASE("Repeated counts of a sample are written as their sum") {
  Trial trial{"x", {support::group("white", {5}, {1}, 25, 50)}};
  trial.groups[0].animals[0].repeats_before = support::counts({3, 2}, 50);
  CHECK(counts_table({trial}) ==
        "group,animal,host,eggs_before,factor_before,eggs_after,factor_after\r\n"
        "white,1,sheep,5,25,1,50\r\n");
}

TEST_CASE("Eggs told apart have two columns a worm, and several trials one of their names") {
  Trial first{"north", {support::group("white", {5}, {1}, 50, 50)}};
  first.groups[0].animals[0].kinds["nematodirus"].before = support::counts({7}, 50)[0];
  Trial second{"south", {support::group("white", {6}, {2}, 50, 50)}};
  CHECK(counts_table({first, second}) ==
        "trial,group,animal,host,eggs_before,factor_before,eggs_after,factor_after,"
        "eggs_before:nematodirus,eggs_after:nematodirus\r\n"
        "north,white,1,sheep,5,50,1,50,7,\r\n"
        "south,white,1,sheep,6,50,2,50,,\r\n");
}

TEST_CASE("A counts table refuses whoever has no name") {
  Trial trial = invented();
  trial.name.clear();
  CHECK(support::input_error([&] { counts_table({trial}); }) ==
        "trial: found an empty name; expected one");
  trial = invented();
  trial.groups[1].name = " ";
  CHECK(support::input_error([&] { counts_table({trial}); }) ==
        "group: found an empty name; expected one");
}

TEST_CASE("A larvae table has a line for each worm of each culture") {
  Trial trial = invented();
  CHECK(larvae_table({trial}).empty());
  trial.groups[0].culture_before = {{"haemonchus", 62}, {"cooperia", 38}};
  trial.groups[1].culture_after = {{"haemonchus", 0}};
  CHECK(larvae_table({trial}) == "group,time,worm,larvae\r\n"
                                 "white,before,haemonchus,62\r\n"
                                 "white,before,cooperia,38\r\n"
                                 "none,after,haemonchus,0\r\n");
  Trial other{"y", {}};
  CHECK(larvae_table({trial, other}) == "trial,group,time,worm,larvae\r\n"
                                        "x,white,before,haemonchus,62\r\n"
                                        "x,white,before,cooperia,38\r\n"
                                        "x,none,after,haemonchus,0\r\n");
}

TEST_CASE("A culture that no larvae table of numbers can hold is not written") {
  Trial trial{"t", {}};
  trial.groups.emplace_back().name = "white";
  trial.groups[0].culture_before = {{"haemonchus", 31}};
  trial.groups[0].culture_before.percentages = PercentCulture{};
  CHECK_THROWS_AS(larvae_table({trial}), CalculationError);
  trial.groups[0].culture_before.percentages.reset();
  trial.groups[0].culture_before.mixed_groups = {"white", "red"};
  CHECK_THROWS_AS(larvae_table({trial}), CalculationError);
}
