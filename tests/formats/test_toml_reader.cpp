#include "formats/toml_reader.hpp"

#include "eggfall/judgement/cut_offs.hpp"
#include "simulation/audit_grid.hpp"
#include "simulation/read_scenario.hpp"
#include "support/support.hpp"

using namespace eggfall;

namespace {

std::string key_of(std::size_t parts) {
  std::string key = "a";
  for (std::size_t i = 1; i < parts; ++i)
    key += ".a";
  return key;
}

} // namespace

TEST_CASE("A key of too many parts is found, in whatever place it stands") {
  const std::string long_key = key_of(17);
  CHECK(line_of_long_key(long_key + " = 1", 16) == 1U);
  CHECK(line_of_long_key("x = 1\n\n[" + long_key + "]", 16) == 3U);
  CHECK(line_of_long_key("x = [1, {" + long_key + " = 1}]", 16) == 1U);
  CHECK(line_of_long_key("\"x\"." + long_key + " = 1", 16) == 1U);
  CHECK(line_of_long_key("x = \"\"\"\n\"\"\"\n" + long_key + " = 1", 16) == 3U);
  CHECK_FALSE(line_of_long_key(key_of(16) + " = 1", 16));
}

TEST_CASE("Dots that are in no key are none of its parts") {
  const std::string dots(40, '.');
  CHECK_FALSE(line_of_long_key("x = \"" + dots + "\"", 16));
  CHECK_FALSE(line_of_long_key("x = \"\\\"" + dots + "\"", 16));
  CHECK_FALSE(line_of_long_key("x = '" + dots + "\\'", 16));
  CHECK_FALSE(line_of_long_key("x = \"\"\"\n\"" + dots + "\n\"\"\"", 16));
  CHECK_FALSE(line_of_long_key("x = '''\n" + dots + "\n'''", 16));
  CHECK_FALSE(line_of_long_key("# " + dots, 16));
  std::string numbers = "x = [0.5";
  for (int i = 0; i < 40; ++i)
    numbers += ", 0.5";
  CHECK_FALSE(line_of_long_key(numbers + "]", 16));
}

TEST_CASE("A TOML file of tables within tables without end is refused") {
  // The library took them apart by recursion, until the stack was full.
  const std::string deep = "[" + key_of(200'000) + "]\n";
  const std::string expected =
      "t.toml:2: found a key of more than 16 parts; expected keys of one part or two";
  CHECK(support::input_error([&] {
          read_cut_offs("schema = \"eggfall.cut-offs/1\"\n" + deep, "t.toml");
        }) == expected);
  CHECK(support::input_error([&] {
          read_audit_grid("schema = \"eggfall.audit-grid/1\"\n" + deep, "t.toml");
        }) == expected);
  CHECK(support::input_error([&] {
          read_scenario("schema = \"eggfall.scenario/1\"\n" + deep, "t.toml");
        }) == expected);
}
