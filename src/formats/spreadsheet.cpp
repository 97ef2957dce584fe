#include "formats/spreadsheet.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/ods_rows.hpp"
#include "formats/workbook_rows.hpp"
#include "formats/zip_archive.hpp"

#include <fmt/format.h>

#include <utility>

namespace eggfall {
namespace {

/// All zip files start alike: what is in it tells the kind.
std::variant<Workbook, OdsWorkbook> opened(ZipArchive archive) {
  if (OdsWorkbook::is_in(archive))
    return OdsWorkbook(archive);
  return Workbook(std::move(archive));
}

} // namespace

bool is_spreadsheet(std::string_view start, const Source& source) {
  const auto refuse = [&](std::string found, std::string expected) {
    throw InputError({Problem{source.name, 0, 0, {}, std::move(found), std::move(expected)}});
  };
  if (start.starts_with("PK\x03\x04") || start.starts_with("PK\x05\x06"))
    return true;
  if (start.starts_with("\xD0\xCF\x11\xE0"))
    refuse("a spreadsheet workbook of the old kind (.xls), or one with a password",
           fmt::format("an .xlsx or .ods workbook without a password, or a text table; {} (without "
                       "the password, if it has one)",
                       save_as_table));
  if (source.is_sheet())
    refuse("a text table", fmt::format("a workbook with a sheet {}", in_quotes(source.sheet)));
  return false;
}

Spreadsheet::Spreadsheet(std::string_view bytes, const std::string& source)
    : source_(source), workbook_(opened(ZipArchive(bytes, source))) {}

std::vector<std::string> Spreadsheet::sheet_names() const {
  return std::visit([](const auto& workbook) { return workbook.sheet_names(); }, workbook_);
}

std::string Spreadsheet::sheet_name(const std::string& wanted) const {
  constexpr std::size_t most_listed = 20;
  const std::vector<std::string> names = sheet_names();
  if (wanted.empty())
    return names.front();
  for (const std::string& name : names)
    if (lower_case(name) == lower_case(wanted)) // a workbook has no two such
      return name;
  throw InputError({Problem{source_,
                            0,
                            0,
                            {},
                            "no sheet " + in_quotes(wanted),
                            "one of its sheets " + quoted_list(names, most_listed)}});
}

void Spreadsheet::read_sheet(const Source& source,
                             const std::function<void(TableRow&)>& take) const {
  std::visit([&](const auto& workbook) { eggfall::read_sheet(workbook, source, take); }, workbook_);
}

} // namespace eggfall
