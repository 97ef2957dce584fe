#include "intake/reading_json.hpp"

#include "eggfall/base/version.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <nlohmann/json.hpp>

using namespace eggfall;
using support::Lines;
using support::understood;

namespace {

nlohmann::json parsed(const UnderstoodTables& tables) {
  return nlohmann::json::parse(reading_json(tables));
}

} // namespace

TEST_CASE("What tables were taken for is JSON with every line and every row of counts") {
  const UnderstoodTables tables =
      understood("Lambs\nTag,Mob,EPG pre,EPG post\n101,W,450,0\n102,W,300,<50\n");
  const nlohmann::json json = parsed(tables);
  CHECK(json.at("schema") == "eggfall.reading/1");
  CHECK(json.at("version") == version());
  CHECK(json.at("understood").get<Lines>() == texts_of(tables.all));
  CHECK(json.at("told").get<Lines>() == texts_of(tables.told));
  CHECK(json.at("noticed").empty());
  const Lines columns = json.at("columns").get<Lines>();
  const auto cell = [&](std::size_t row, const std::string& name) {
    const auto found = std::ranges::find(columns, name);
    REQUIRE(found != columns.end());
    return json.at("rows").at(row).at(static_cast<std::size_t>(found - columns.begin()));
  };
  REQUIRE(json.at("rows").size() == 2);
  CHECK(cell(0, "animal") == "101");
  CHECK(cell(0, "eggs_before") == "9");
  CHECK(cell(0, "eggs_after") == "0");
  CHECK(cell(1, "eggs_before") == "6");
  CHECK(cell(1, "eggs_after") == "0");
}

TEST_CASE(
    "Of a table in our own form nothing was understood, and what its reader noticed is kept") {
  const nlohmann::json json =
      parsed(understood("group,animal,eggs_before,eggs_after,sex\nW,1,9,0,f\n"));
  CHECK(json.at("understood").empty());
  CHECK(json.at("told").empty());
  CHECK(json.at("noticed").get<Lines>() == Lines{"t.csv: not used: column \"sex\""});
}
