#include "formats/table_stream.hpp"

#include "base/text.hpp"
#include "formats/workbook.hpp"
#include "formats/workbook_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t bytes_that_tell = 4;
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
  if (held_.starts_with("PK\x03\x04") || held_.starts_with("PK\x05\x06")) {
    kind_ = Kind::workbook;
    return;
  }
  if (held_.starts_with("\xD0\xCF\x11\xE0"))
    rows_.refuse(0, "a spreadsheet workbook of the old kind (.xls), or one with a password",
                 "an .xlsx workbook without a password, or a text table; save the sheet as \"CSV "
                 "UTF-8\"");
  if (!wanted_sheet_.empty())
    rows_.refuse(0, "a text table",
                 fmt::format("a workbook with a sheet {}", in_quotes(wanted_sheet_)));
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
  const Workbook workbook(held_, source_.name);
  source_.sheet = workbook.sheet_name(wanted_sheet_);
  read_sheet(workbook, source_, [&](TableRow& row) { rows_.add(row, take); });
}

} // namespace eggfall
