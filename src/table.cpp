#include "eggfall/table.hpp"

#include "problems.hpp"
#include "table_stream.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t largest_text = 64U << 20U;
constexpr std::size_t most_rows = 1'000'000;

} // namespace

Table read_table(std::string_view text, const std::string& source, std::string_view row_is) {
  Problems problems;
  if (text.size() > largest_text)
    problems.give_up({source,
                      0,
                      0,
                      {},
                      fmt::format("{} bytes", text.size()),
                      fmt::format("a table of at most {} bytes", largest_text)});
  Table table;
  const auto take = [&](TableRow&& row) {
    if (table.rows.size() == most_rows)
      problems.give_up({source, 0, 0, {}, fmt::format("more than {} rows", most_rows), "fewer"});
    table.rows.push_back(std::move(row));
  };
  TableStream stream(source, row_is, problems);
  stream.feed(text, take);
  stream.finish(take);
  problems.throw_if_any();
  table.delimiter = stream.delimiter();
  table.header = stream.header();
  return table;
}

} // namespace eggfall
