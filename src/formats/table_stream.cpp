#include "formats/table_stream.hpp"

#include "formats/spreadsheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t largest_workbook = 64U << 20U;

} // namespace

TableStream::TableStream(Source source, std::string_view row_is, Problems& problems)
    : source_(std::move(source)), wanted_sheet_(std::exchange(source_.sheet, {})),
      rows_(source_, row_is, problems), text_(rows_) {}

void TableStream::feed(std::string_view piece, const TableBuilder::Take& take) {
  if (kind_ == Kind::unknown) {
    const std::size_t wanted = std::min(bytes_that_tell - held_.size(), piece.size());
    held_ += piece.substr(0, wanted);
    piece.remove_prefix(wanted);
    if (held_.size() < bytes_that_tell)
      return;
    look_at_start(take);
  }
  if (kind_ == Kind::text) {
    text_.feed(piece, take);
    return;
  }
  held_ += piece;
  if (held_.size() > largest_workbook)
    rows_.refuse(0, fmt::format("more than {} bytes", largest_workbook), "a smaller workbook");
}

void TableStream::look_at_start(const TableBuilder::Take& take) {
  if (is_spreadsheet(held_, {source_.name, wanted_sheet_})) {
    kind_ = Kind::workbook;
    return;
  }
  kind_ = Kind::text;
  text_.feed(std::exchange(held_, {}), take);
}

void TableStream::finish(const TableBuilder::Take& take) {
  if (kind_ == Kind::unknown)
    look_at_start(take);
  if (kind_ == Kind::text)
    text_.finish(take);
  else
    read_workbook(take);
  rows_.finish();
}

void TableStream::read_workbook(const TableBuilder::Take& take) {
  const Spreadsheet workbook(held_, source_.name);
  source_.sheet = workbook.sheet_name(wanted_sheet_);
  workbook.read_sheet(source_, [&](TableRow& row) { rows_.add(row, take); });
}

} // namespace eggfall
