#pragma once

#include "formats/date_serial.hpp"
#include "formats/zip_archive.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// The text of a string item or an inline string, with its runs joined and without phonetic ones.
std::string string_item_text(const pugi::xml_node& item);

/// An .xlsx workbook: its worksheets by name, and what their cells refer to.
class Workbook {
public:
  /// @throws InputError if it is damaged, too large, has a password, is no workbook, or is one
  ///   without a worksheet.
  explicit Workbook(ZipArchive archive);

  /// At least one, in their order.
  std::vector<std::string> sheet_names() const;

  /// The worksheet of that name, which must be one of the workbook's.
  /// @throws InputError if it is damaged or too large.
  pugi::xml_document sheet(const std::string& name) const;

  /// Nothing for a number beyond the texts that there are.
  std::optional<std::string_view> shared_string(std::size_t index) const;

  /// Whether a cell of that style shows its number as a date.
  bool shows_date(std::size_t style) const;

  DateSystem date_system() const { return date_system_; }

private:
  struct SheetPart {
    std::string name;
    std::string part;
  };

  std::optional<pugi::xml_document> xml(const std::string& part) const;
  void read_sheets(const std::string& part, const pugi::xml_node& workbook);
  void read_shared_strings(const std::string& part);
  void read_styles(const std::string& part);

  ZipArchive archive_;
  std::vector<SheetPart> sheets_;
  std::vector<std::string> shared_strings_;
  std::vector<bool> date_styles_; ///< By the style's number.
  DateSystem date_system_ = DateSystem::from_1900;
};

} // namespace eggfall
