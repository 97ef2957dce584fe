#pragma once

#include "formats/zip_archive.hpp"

#include <pugixml.hpp>

#include <string>
#include <vector>

namespace eggfall {

/// An .ods workbook (OASIS OpenDocument 1.2, spreadsheet): its tables by name.
class OdsWorkbook {
public:
  /// @throws InputError if it is damaged, too large, has a password, is no spreadsheet, or is one
  ///   without a table.
  explicit OdsWorkbook(const ZipArchive& archive);

  /// Whether the archive is an OpenDocument of some kind, and no .xlsx workbook.
  static bool is_in(const ZipArchive& archive);

  /// At least one, in their order.
  std::vector<std::string> sheet_names() const;

  /// The element table:table of that name, which must be one of the workbook's.
  pugi::xml_node sheet(const std::string& name) const;

private:
  struct NamedTable {
    std::string name;
    pugi::xml_node table;
  };

  std::vector<NamedTable> tables() const;

  pugi::xml_document content_;
};

} // namespace eggfall
