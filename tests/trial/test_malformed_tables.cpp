#include "support/malformed_tables.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

TEST_CASE("A malformed table gets one clear message") {
  CHECK(malformed_tables().size() >= 40);
  for (const MalformedTable& item : malformed_tables()) {
    INFO(item.name);
    CHECK(support::input_error([&] { eggfall::read_trials(item.table, "t.csv", item.options); }) ==
          item.message);
  }
}

TEST_CASE("No more than twenty problems are told at once") {
  eggfall::ReadOptions options;
  options.factor_before = eggfall::MultiplicationFactor(50);
  options.factor_after = eggfall::MultiplicationFactor(50);
  std::string table = "group,animal,eggs_before,eggs_after\n";
  for (int i = 0; i < 50; ++i)
    table += fmt::format("A,{},x,1\n", i);
  try {
    eggfall::read_trials(table, "t.csv", options);
    FAIL("the table was read");
  } catch (const eggfall::InputError& error) {
    CHECK(error.problems().size() == 20);
  }
}
