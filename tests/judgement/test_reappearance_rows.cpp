#include "judgement/reappearance_rows.hpp"

#include "support/support.hpp"

#include <fmt/format.h>

#include <string>

using namespace eggfall;

namespace {

Group horses(std::vector<DrugClass> classes, const std::string& drench) {
  Group group = support::group("T", {9, 8}, {1, 0});
  group.host = "horses";
  group.worm = "strongyles";
  group.classes = std::move(classes);
  group.drench = drench;
  return group;
}

std::string weeks(const Group& group) {
  const auto found = expected_weeks(published_egg_reappearance(), group);
  return found ? fmt::format("{} {}-{}", found->known_for, found->first, found->last) : "none";
}

const std::string definition = "[[definition]]\ntext = \"t\"\nthreshold_percent = 90\n"
                               "source = \"s\"\nprovenance = \"memory\"\n";

std::string refused(const std::string& rest) {
  return support::input_error(
      [&] { read_egg_reappearance("schema = \"eggfall.egg-reappearance/1\"\n" + rest, "r.toml"); });
}

} // namespace

// Weeks from memory of published reviews, as src/data/egg_reappearance.toml says.
TEST_CASE("The weeks expected are those of the substance, or of the class") {
  CHECK(weeks(horses({DrugClass::ml}, "Ivermectin paste")) == "ivermectin 6-8");
  CHECK(weeks(horses({DrugClass::ml}, "moxidectin gel")) == "moxidectin 10-12");
  CHECK(weeks(horses({}, "ivermectin")) == "ivermectin 6-8"); // a drench that a row names
  CHECK(weeks(horses({DrugClass::ml}, "abamectin")) == "none");
  CHECK(weeks(horses({DrugClass::bz}, "")) == "fenbendazole and oxibendazole 4-5");
  CHECK(weeks(horses({DrugClass::pyr}, "")) == "pyrantel 4-5");
  CHECK(weeks(horses({}, "")) == "none");
  CHECK(weeks(horses({DrugClass::bz, DrugClass::pyr}, "")) == "none");
  Group sheep = horses({DrugClass::bz}, "");
  sheep.host = "sheep";
  CHECK(weeks(sheep) == "none");
  CHECK_FALSE(is_host_of_reappearance(published_egg_reappearance(), sheep));
  Group ascarids = horses({DrugClass::bz}, "");
  ascarids.worm = "ascarids";
  CHECK(weeks(ascarids) == "none");
  CHECK(is_host_of_reappearance(published_egg_reappearance(), ascarids));
  CHECK_FALSE(is_worm_of_reappearance(published_egg_reappearance(), ascarids));
}

TEST_CASE("Every number about egg reappearance has its source and is marked as from memory") {
  const ReappearanceRows& rows = published_egg_reappearance();
  CHECK(rows.definition.threshold == 0.9);
  CHECK(rows.definition.citation.provenance == Provenance::memory);
  CHECK_FALSE(rows.definition.text.empty());
  CHECK(rows.rows.size() == 4);
  for (const ReappearanceRow& row : rows.rows) {
    CHECK(row.weeks.citation.provenance == Provenance::memory);
    CHECK_FALSE(row.weeks.citation.source.empty());
  }
}

TEST_CASE("A file of egg reappearance that is none is refused with its line") {
  CHECK_THAT(refused(""), Catch::Contains("no definition"));
  CHECK_THAT(refused(definition + definition), Catch::Contains("a second definition"));
  const std::string row = "[[expected]]\nhost = [\"horses\"]\nworm = \"strongyles\"\n"
                          "drug_class = \"ML\"\nof = \"x\"\nsource = \"s\"\nprovenance = "
                          "\"memory\"\n";
  CHECK_THAT(refused(definition + row + "first_week = 8\nlast_week = 6\n"),
             Catch::Contains("week 8 to week 6"));
  CHECK_THAT(refused(definition + row + "first_week = 6.5\nlast_week = 8\n"),
             Catch::Contains("first_week"));
  CHECK_THAT(refused(definition + row + "first_week = 6\n"), Catch::Contains("last_week"));
  CHECK_THAT(refused(definition + row + "first_week = 6\nlast_week = 8\nweeks = 1\n"),
             Catch::Contains("unknown key \"weeks\""));
}
