#include "intake/same_animal.hpp"

#include "support/support.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

namespace {

RawAnimal animal_of(const std::string& name, const std::string& text) {
  RawAnimal animal;
  animal.tag = {"7", "t.csv", 2, 1, "Tag"};
  animal.attributes.emplace(name, RawCell{text, "t.csv", 2, 3, "Head"});
  return animal;
}

/// What an attribute becomes if the row of a later sample says another; a refusal, if it is one.
std::string added(const std::string& name, const std::string& first, const std::string& second,
                  std::string* told = nullptr) {
  const Layout layout;
  Problems problems;
  ReadingLog log;
  SameAnimal same(layout, DateOrder::day_first, problems);
  RawAnimal animal = animal_of(name, first);
  same.add(animal, name, {second, "t.csv", 9, 3, "Head"});
  same.tell("t.csv", log);
  if (told != nullptr && !log.told().empty())
    *told = texts_of(log.told()).front();
  try {
    problems.throw_if_any();
  } catch (const InputError& error) {
    return error.what();
  }
  return animal.attributes.at(name).text;
}

} // namespace

TEST_CASE("Words for one thing do not contradict each other") {
  CHECK(added("host", "sheep", "ewes") == "sheep");
  CHECK(added("class", "BZ", "benzimidazoles") == "BZ");
  CHECK(added("class", "ML+LV", "lv + ml") == "ML+LV");
  CHECK(added("role", "control", "untreated") == "control");
  CHECK(added("worm", "haemonchus", "H. contortus") == "haemonchus");
  CHECK(added("date_treated", "2031-05-03", "3/5/2031") == "2031-05-03");
  CHECK(added("dose_ml", "8", "8.0") == "8");
  CHECK(added("drench", "Ivermectin", "ivermectin ") == "Ivermectin");
  CHECK(added("region", "North", "") == "North");
}

TEST_CASE("All else that differs is a problem, with both places") {
  CHECK(
      added("host", "sheep", "goats") ==
      "t.csv:9: column 3 (Head): found \"goats\" for \"7\", and \"sheep\" on line 2; expected the "
      "same host in all rows of an animal");
  for (const auto& [name, first, second] : {std::array<std::string, 3>{"class", "BZ", "ML"},
                                            {"class", "BZ", "odd"},
                                            {"role", "control", "treated"},
                                            {"worm", "haemonchus", "cooperia"},
                                            {"drench", "ivermectin", "levamisole"},
                                            {"region", "North", "South"},
                                            {"date_treated", "2031-05-03", "2031-05-04"},
                                            {"dose_ml", "8", "9"},
                                            {"animals_in_pool", "10", "9"}})
    CHECK(added(name, first, second).find("expected the same " + name) != std::string::npos);
}

TEST_CASE("A drench that is named once is the animal's, and none beside it no contradiction") {
  std::string told;
  CHECK(added("drench", "none", "ivermectin", &told) == "ivermectin");
  CHECK(told == "t.csv: a drench that is named at one time and none at the other is the animal's, "
                "1 time: \"ivermectin\" for \"7\"");
  CHECK(added("drench", "ivermectin", "untreated") == "ivermectin");
  CHECK(added("drench", "none", "nil") == "none");
  CHECK(added("dose_ml", "0", "8") == "8");
  CHECK(added("class", "-", "ML") == "ML");
}

TEST_CASE("Of two weights the earlier sample's counts, and that is told") {
  std::string told;
  CHECK(added("weight_kg", "40", "44", &told) == "40");
  CHECK(told == "t.csv: 1 animal with two weights: that of the earlier sample counts");
}

TEST_CASE("Rows of two trials are those that tell a trial, a farm or a year otherwise") {
  CHECK(mark_apart(animal_of("farm", "Hill"), animal_of("farm", "Dale")) == "farm");
  CHECK(mark_apart(animal_of("year", "2030"), animal_of("year", "2031")) == "year");
  CHECK_FALSE(mark_apart(animal_of("farm", "Hill"), animal_of("farm", "hill")));
  CHECK_FALSE(mark_apart(animal_of("farm", "Hill"), animal_of("year", "2031")));
  CHECK_FALSE(mark_apart(animal_of("region", "North"), animal_of("region", "South")));
}

TEST_CASE("A role is told by a word for it, or by yes and no") {
  CHECK(role_called("untreated", TableWords::known()) == Role::control);
  CHECK(role_called("yes", TableWords::known()) == Role::treated);
  CHECK_FALSE(role_called("perhaps", TableWords::known()));
}
