// A counts table: whole, in pieces, and written and read back.
#include "counts_checks.hpp"
#include "harness.hpp"

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::TrialTable table = eggfall::read_trials(bytes, "t.csv", with_factor());
  check_read_in_pieces(bytes, table);
  check_written_and_read_back(table.trials);
}
