// The raw rows of a file in whatever encoding or workbook it comes.
#include "formats/raw_sheets.hpp"

#include "harness.hpp"

#include "base/text.hpp"

#include <cstddef>

namespace {

void check_rows(const eggfall::RawSheet& sheet) {
  std::size_t line = 0;
  for (const eggfall::TableRow& row : sheet.rows) {
    fuzz::promise(row.line > line, "rows come in the order of their lines");
    line = row.line;
    fuzz::promise(!row.cells.empty() && !row.cells.back().empty(),
                  "no row is blank, or ends in an empty cell");
    fuzz::promise(row.cells.size() <= 1'000, "a row has at most 1,000 cells");
    for (const std::string& cell : row.cells)
      fuzz::promise(!eggfall::first_invalid_utf8(cell) && cell.find('\0') == std::string::npos,
                    "a cell is UTF-8 without NUL characters");
    for (const eggfall::UnreadableCell& cell : row.unreadable)
      fuzz::promise(cell.column < row.cells.size(), "a cell without a value stands in its row");
  }
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::RawBook book = eggfall::read_raw(bytes, "t.ods");
  std::size_t rows = 0;
  for (const eggfall::RawSheet& sheet : book.sheets) {
    check_rows(sheet);
    promise(sheet.source.is_sheet() == book.encoding.empty(), "a workbook has sheets, a text none");
    rows += sheet.rows.size();
  }
  promise(rows > 0, "what holds nothing is refused");
}
