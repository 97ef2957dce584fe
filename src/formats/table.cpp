#include "formats/table.hpp"

#include "base/problems.hpp"
#include "formats/table_limits.hpp"
#include "formats/table_stream.hpp"

#include <utility>

namespace eggfall {

Table read_table(std::string_view bytes, const Source& source, std::string_view row_is) {
  Problems problems;
  if (const auto problem = too_large(source, bytes.size()))
    problems.give_up(*problem);
  Table table;
  TableStream stream(source, row_is, problems);
  const auto take = [&](TableRow&& row) {
    const std::size_t rows = table.rows.size() + 1;
    if (const auto problem = too_many(stream.source(), rows, rows * row.cells.size()))
      problems.give_up(*problem);
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
