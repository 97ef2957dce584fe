// A counts table in an .xlsx workbook.
#include "counts_checks.hpp"
#include "harness.hpp"

#include "base/text.hpp"
#include "formats/table.hpp"

#include <algorithm>

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::Table table = eggfall::read_table(bytes, "t.xlsx", "animal");
  for (const eggfall::TableRow& row : table.rows) {
    promise(row.cells.size() == table.header.cells.size(), "rows are as wide as the header");
    for (const std::string& cell : row.cells)
      promise(cell.size() <= 1'000 && !eggfall::first_invalid_utf8(cell),
              "a cell is UTF-8 of at most 1,000 bytes");
  }
  const eggfall::TrialTable trials = eggfall::read_trials(bytes, "t.xlsx", with_factor());
  check_read_in_pieces(bytes, trials);
  check_written_and_read_back(trials.trials);
}
