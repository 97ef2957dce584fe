#include "formats/raw_sheets.hpp"

#include "eggfall/base/error.hpp"
#include "formats/csv_parser.hpp"
#include "formats/csv_quotes.hpp"
#include "formats/csv_separator.hpp"
#include "formats/spreadsheet.hpp"
#include "formats/table_limits.hpp"
#include "formats/text_encoding.hpp"
#include "formats/text_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

[[noreturn]] void refuse_raw(const Source& source, std::size_t line, std::size_t column,
                             std::string found, std::string expected) {
  throw InputError({Problem{source, line, column, {}, std::move(found), std::move(expected)}});
}

void refuse_if(const std::optional<Problem>& problem) {
  if (problem)
    throw InputError({*problem});
}

/// Keeps rows, and refuses more than can be held.
class RawRows {
public:
  /// Empties `row`.
  void keep(RawSheet& sheet, TableRow& row) {
    while (!row.cells.empty() && row.cells.back().empty())
      row.cells.pop_back();
    if (row.cells.size() > most_columns)
      refuse_raw(sheet.source, row.line, 0, fmt::format("{} columns", row.cells.size()),
                 fmt::format("at most {}", most_columns));
    if (!row.cells.empty()) {
      ++rows_;
      cells_ += row.cells.size();
      refuse_if(too_many(sheet.source, rows_, cells_));
      row.cells.shrink_to_fit();
      sheet.rows.push_back(std::move(row));
    }
    row = TableRow{};
  }

  std::size_t rows() const { return rows_; }

private:
  std::size_t rows_ = 0; ///< Of all sheets.
  std::size_t cells_ = 0;
};

/// The rows of one text, read line by line.
class RawText {
public:
  RawText(RawSheet& sheet, char separator)
      : sheet_(sheet), parser_(CSV_STRICT_FINI), quotes_(separator) {
    parser_.separate_by(separator);
  }

  void read_line(std::string_view line, std::size_t number) {
    if (!parser_.is_within_row() && line.find_first_not_of(" \t\r\n") == std::string_view::npos)
      return;
    follow_quotes(line, number);
    if (parser_.row_size() + line.size() > longest_row)
      refuse_raw(sheet_.source, parser_.is_within_row() ? parser_.row_start() : number, 0,
                 fmt::format("a line of more than {} bytes (is a quote left open?)", longest_row),
                 "lines of a table");
    parser_.feed(line, number);
    if (parser_.row_ended())
      end_row();
  }

  void finish() {
    if (quotes_.is_open())
      refuse_raw(sheet_.source, opened_line_, quotes_.column(),
                 "a double quote that is never closed", "a closing quote");
    parser_.finish();
    if (parser_.row_ended())
      end_row();
  }

private:
  /// libcsv would read on to the next quote, over any number of cells, where text stands behind a
  /// closing one.
  void follow_quotes(std::string_view line, std::size_t number) {
    for (const char c : line) {
      quotes_.separates(c);
      if (quotes_.opened())
        opened_line_ = number;
      if (quotes_.is_beside_quotes())
        refuse_raw(sheet_.source, number, quotes_.column(), "text behind a closing double quote",
                   "quotes around the whole cell, and doubled inside it");
    }
  }

  void end_row() {
    TableRow& row = parser_.row();
    if (parser_.too_long() != 0)
      refuse_raw(sheet_.source, row.line, parser_.too_long(),
                 fmt::format("a cell of more than {} bytes", longest_cell),
                 "a shorter one (is a quote left open?)");
    parser_.next_row();
    rows_.keep(sheet_, row);
  }

  RawSheet& sheet_;
  CsvParser parser_;
  CsvQuotes quotes_;
  RawRows rows_;
  std::size_t opened_line_ = 0;
};

RawBook raw_text(std::string_view bytes, const Source& source) {
  DecodedText decoded_text = decoded(bytes, source.name);
  const std::string_view text = decoded_text.text;
  const std::size_t start = text.find_first_not_of(" \t\r\n");
  if (start != std::string_view::npos && text[start] == '<')
    refuse_raw(source.name, 0, 0,
               "HTML or XML (some programs save a page under the name of a spreadsheet)",
               fmt::format("a table; {}", save_as_table));
  RawBook book{{RawSheet{source, {}}}, std::string(decoded_text.encoding)};
  if (text.find_first_not_of(" \t\r\n,;\"") == std::string_view::npos)
    return book; // no separator could be found of separators alone
  const char named = named_separator(text);
  RawText reader(book.sheets.front(), named != '\0' ? named : separator_of(text));
  std::size_t number = 0;
  each_line(text, [&](std::string_view line) {
    if (++number > 1 || named == '\0')
      reader.read_line(line, number);
    return true;
  });
  reader.finish();
  return book;
}

RawBook raw_workbook(std::string_view bytes, const Source& source) {
  const Spreadsheet workbook(bytes, source.name);
  std::vector<std::string> names = workbook.sheet_names();
  if (source.is_sheet())
    names = {workbook.sheet_name(source.sheet)};
  RawBook book;
  RawRows rows;
  for (std::string& name : names) {
    RawSheet& sheet = book.sheets.emplace_back(RawSheet{{source.name, std::move(name)}, {}});
    workbook.read_sheet(sheet.source, [&](TableRow& row) { rows.keep(sheet, row); });
  }
  return book;
}

} // namespace

RawBook read_raw(std::string_view bytes, const Source& source) {
  refuse_if(too_large(source, bytes.size()));
  RawBook book = is_spreadsheet(bytes.substr(0, bytes_that_tell), source)
                     ? raw_workbook(bytes, source)
                     : raw_text(bytes, source);
  if (std::ranges::all_of(book.sheets, [](const RawSheet& sheet) { return sheet.rows.empty(); }))
    refuse_raw(book.sheets.size() == 1 ? book.sheets.front().source : Source(source.name), 0, 0,
               "nothing", "a table");
  return book;
}

} // namespace eggfall
