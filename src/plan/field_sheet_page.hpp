#pragma once

#include "plan/field_sheets.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

// A sheet of more lines than a page of paper holds is several pages, each whole by itself.
namespace eggfall {

/// Lines that stand on one page of a sheet.
struct FieldSheetPage {
  std::size_t first = 0; ///< Place of its first line among all.
  std::size_t lines = 0;
  std::size_t number = 1; ///< From 1.
  std::size_t pages = 1;  ///< Pages of the sheet.
};

/// `lines` on as few pages as hold `most` (1 or more) each, as evenly as can be: 36 on pages of 27
/// are 18 and 18. No page for no line.
std::vector<FieldSheetPage> equal_pages(std::size_t lines, std::size_t most);

/// Lines that fit on A4 and Letter below the key of so many groups, each high enough for a hand in
/// a glove; 6 at least. `taken` is the room of lines that what else stands on the page takes.
std::size_t most_lines(std::size_t groups, std::size_t taken = 0);

/// A section that begins a page of paper: its heading, which page of the sheet it is, the farm and
/// day 0 as far as they are known, and lines to write on: for the farm if not known, and `blanks`.
pugi::xml_node add_field_sheet_page(pugi::xml_node body, const FieldSheetQuestion& question,
                                    std::string_view heading, const FieldSheetPage& page,
                                    std::vector<std::string> blanks);

/// "Lines 1 to 18"; of listed animals "Lines 1 to 18, tags 701 to 718", in the list's order.
std::string lines_text(const FieldSheetPage& page, const FieldSheets& sheets);

/// The foot of all sheets of paper: the test, the farm and day 0 as far as they are known. It names
/// no group, for it stands on the bench sheets too.
std::string foot_text(const FieldSheetQuestion& question);

} // namespace eggfall
