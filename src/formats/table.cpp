#include "formats/table.hpp"

#include "base/problems.hpp"
#include "formats/table_stream.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t largest_table = 64U << 20U;
constexpr std::size_t most_rows = 1'000'000;
/// A sheet stores no empty cells, so that a small file could ask for any memory.
constexpr std::size_t most_cells = 20'000'000;

} // namespace

Table read_table(std::string_view bytes, const Source& source, std::string_view row_is) {
  Problems problems;
  if (bytes.size() > largest_table)
    problems.give_up({source.name,
                      0,
                      0,
                      {},
                      fmt::format("{} bytes", bytes.size()),
                      fmt::format("a table of at most {} bytes", largest_table)});
  Table table;
  TableStream stream(source, row_is, problems);
  const auto take = [&](TableRow&& row) {
    if (table.rows.size() == most_rows)
      problems.give_up(
          {stream.source(), 0, 0, {}, fmt::format("more than {} rows", most_rows), "fewer"});
    if ((table.rows.size() + 1) * row.cells.size() > most_cells)
      problems.give_up({stream.source(),
                        0,
                        0,
                        {},
                        fmt::format("more than {} cells, the empty ones included", most_cells),
                        "fewer rows, or fewer columns"});
    table.rows.push_back(std::move(row));
  };
  stream.feed(bytes, take);
  stream.finish(take);
  problems.throw_if_any();
  table.source = stream.source();
  table.header = stream.header();
  return table;
}

} // namespace eggfall
