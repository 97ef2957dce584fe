#include "trial/read_animals.hpp"

#include "support/edge_inputs.hpp"
#include "support/support.hpp"

using namespace eggfall;

namespace {

std::string error(const std::string& text) {
  return support::input_error([&] { read_animals(text, "m.csv"); });
}

} // namespace

TEST_CASE("A list of animals is read in its order, with what is known of each") {
  const AnimalList list =
      read_animals("Animal;Weight kg;EPG;ear\n 12 ;30,5;450;left\nB-3;;0;\n=1+1;28;;\n", "m.csv");
  CHECK(list.animals == std::vector<ListedAnimal>{{"12", 30.5, 450.0},
                                                  {"B-3", std::nullopt, 0.0},
                                                  {"=1+1", 28.0, std::nullopt}});
  CHECK(list.notes == std::vector<std::string>{"m.csv: not used: column \"ear\""});
}

TEST_CASE("A malformed list of animals gets one clear message") {
  CHECK(error("") == "m.csv: found nothing; expected a header line and one line an animal");
  CHECK(error("tag,weight_kg\n1,30\n") ==
        "m.csv:1: found the columns \"tag\", \"weight_kg\"; expected a column animal");
  CHECK(error("animal,weight_kg\n1,30\n1,31\n") ==
        "m.csv:3: column 1 (animal): found \"1\" again; expected each animal once (it is on line 2 "
        "already)");
  CHECK(error("animal,weight_kg\n,30\n") ==
        "m.csv:2: column 1 (animal): found nothing; expected a name");
  CHECK(error("animal,weight_kg\n1,heavy\n") ==
        "m.csv:2: column 2 (weight_kg): found \"heavy\"; expected a weight in kg from 0.1 to "
        "2000");
  CHECK(error("animal,epg\n1,-50\n") == "m.csv:2: column 2 (epg): found \"-50\"; expected eggs per "
                                        "gram from 0 to 1000000, with no mark for thousands");
  CHECK(error("animal,epg\n1,1.250\n").find("with no mark for thousands") != std::string::npos);
  CHECK(error("animal,epg,epg\n1,5,5\n").find("a second column of this name") != std::string::npos);
}

TEST_CASE("Edge inputs are no list of animals, and its edge forms are one") {
  support::check_edge_inputs_refused(
      "m.csv", [](const std::string& bytes) { read_animals(bytes, "m.csv"); });
  support::check_edge_forms_alike("animal,weight_kg\n1,40\n2,41.5\n", [](const std::string& bytes) {
    std::string shown;
    for (const ListedAnimal& animal : read_animals(bytes, "m.csv").animals)
      shown += animal.tag + ' ' + std::to_string(animal.weight_kg.value()) + '\n';
    return shown;
  });
}
