#include "formats/csv_parser.hpp"

#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/table_limits.hpp"

namespace eggfall {

CsvParser::CsvParser(unsigned char options) {
  if (csv_init(&parser_, options) != 0)
    throw CalculationError("the CSV parser could not start");
}

CsvParser::~CsvParser() {
  csv_free(&parser_);
}

void CsvParser::separate_by(char separator) {
  csv_set_delim(&parser_, static_cast<unsigned char>(separator));
}

bool CsvParser::feed(std::string_view line, std::size_t number) {
  if (!is_within_row())
    row_start_ = number;
  row_size_ += line.size();
  const std::size_t taken = csv_parse(&parser_, line.data(), line.size(), on_cell, on_row, this);
  rethrow_failure();
  return taken == line.size();
}

bool CsvParser::finish() {
  const bool closed = csv_fini(&parser_, on_cell, on_row, this) == 0;
  rethrow_failure();
  return closed;
}

void CsvParser::next_row() {
  row_ended_ = false;
  row_start_ = 0;
  row_size_ = 0;
  too_long_ = 0;
}

void CsvParser::on_cell(void* cell, std::size_t size, void* self) {
  auto* const parser = static_cast<CsvParser*>(self);
  try {
    parser->add_cell({static_cast<const char*>(cell), size});
  } catch (...) { // must not cross libcsv's C frames
    if (!parser->failure_)
      parser->failure_ = std::current_exception();
  }
}

// The row is looked at later, for the same reason. A line holds the end of one row at most.
void CsvParser::on_row(int /*end_of_line*/, void* self) {
  static_cast<CsvParser*>(self)->row_ended_ = true;
}

void CsvParser::rethrow_failure() const {
  if (failure_)
    std::rethrow_exception(failure_);
}

void CsvParser::add_cell(std::string_view cell) {
  row_.line = row_start_;
  row_.cells.push_back(normalised(cell.substr(0, longest_cell + 1)));
  if (too_long_ == 0 && cell.size() > longest_cell)
    too_long_ = row_.cells.size();
}

} // namespace eggfall
