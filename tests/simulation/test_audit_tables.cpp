#include "simulation/audit_tables.hpp"

#include "simulation/audit_text.hpp"
#include "simulation/invented_audit.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

using namespace eggfall;
using namespace invented_audit;

namespace {

const AuditTable& table_of(const std::vector<AuditTable>& tables, const std::string& heading) {
  const auto found = std::ranges::find(tables, heading, &AuditTable::heading);
  REQUIRE(found != tables.end());
  return *found;
}

std::vector<std::string> texts(const std::vector<AuditValue>& row) {
  std::vector<std::string> all;
  for (const AuditValue& value : row)
    all.push_back(value.text + value.after);
  return all;
}

AuditResult titled() {
  AuditResult result = two_cells();
  result.settings.criteria[0].title = "By hand";
  result.settings.criteria[0].method = resampled;
  return result;
}

} // namespace

TEST_CASE("Every table of an audit has as many cells in a row as heads, and no heading twice") {
  const AuditResult result = titled();
  std::vector<AuditTable> tables = summary_tables(result);
  std::ranges::copy(farm_tables(result), std::back_inserter(tables));
  std::vector<std::string> headings;
  for (const AuditTable& table : tables) {
    CAPTURE(table.heading);
    headings.push_back(table.heading);
    CHECK_FALSE(table.rows.empty());
    for (const std::vector<AuditValue>& row : table.rows)
      CHECK(row.size() == table.heads.size());
  }
  std::ranges::sort(headings);
  CHECK(std::ranges::adjacent_find(headings) == headings.end());
}

TEST_CASE("A table tells what each interval is worth") {
  const AuditResult result = titled();
  const std::vector<AuditTable> tables = summary_tables(result);
  const AuditTable& table = table_of(tables, "What each interval is worth, design paired");
  // 90 of 100 and 150 of 200: 82.5 on average; none in 4 of 100 and 20 of 200; widths of 10 and 20
  // points. Both cells of the other are below 88.
  REQUIRE(table.rows.size() == 2);
  CHECK(texts(table.rows[0]) == std::vector<std::string>{"bootstrap, BCa", "82.5", "75.0 (3.1)",
                                                         farm_words(result.farms[1].farm), "1 of 2",
                                                         "7.0", "15.0", "-"});
  CHECK(table.rows[0][1].below_target);
  CHECK(table.rows[0][2].below_target);
  CHECK(texts(table.rows[1])[4] == "2 of 2");
}

TEST_CASE("A table has both false claims of a criterion with each interval") {
  const AuditResult result = titled();
  const std::vector<AuditTable> tables = summary_tables(result);
  const AuditTable& table = table_of(tables, "False claims by By hand, design paired");
  // At 98%: 3 + 8 of 110 claim resistance; at 80%: 4 + 2 of 200 claim that it works.
  REQUIRE(table.rows.size() == 2);
  const std::vector<std::string> row = texts(table.rows[0]);
  CHECK(std::vector<std::string>(row.begin(), row.begin() + 3) ==
        std::vector<std::string>{"bootstrap, BCa", "1", "10.0"});
  CHECK(row[4] == "1");
  CHECK(row[5] == "3.0");
  CHECK_THAT(table.note,
             Catch::Contains("removes 95% or more") && Catch::Contains("less than 90%"));
}

TEST_CASE("A table has the classes given at each true efficacy, by every criterion") {
  AuditResult result = titled();
  const std::vector<AuditTable> tables = summary_tables(result);
  const AuditTable& table =
      table_of(tables, "True efficacy against class by By hand, design paired");
  REQUIRE(table.rows.size() == 2);
  // 4, 2, 160, 0, 14 and 20 of 200.
  CHECK(texts(table.rows[0]) ==
        std::vector<std::string>{"80.0%", "1", "2.0", "1.0", "80.0", "0.0", "7.0", "10.0"});
}

TEST_CASE("A cell's table tells coverage from width, and what lies below the target") {
  const std::vector<AuditTable> tables = farm_tables(titled());
  REQUIRE(tables.size() == 2);
  const std::vector<AuditValue>& row = tables[0].rows[0];
  CHECK(row[6].text == "90.0");
  CHECK(row[6].after == " / 10.0");
  CHECK_FALSE(row[6].below_target);
  CHECK(row[7].below_target);
}
