#include "plan/field_sheet_page.hpp"

#include "base/date.hpp"
#include "eggfall/base/version.hpp"
#include "formats/drawing/paper_form.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

/// Entries of the key that stand side by side on paper.
constexpr std::size_t groups_abreast = 3;

/// What is known stands before the lines to write on.
void add_known(pugi::xml_node entries, std::string_view text) {
  pugi::xml_node known = entries.prepend_child("b");
  append_words(known, text);
}

} // namespace

std::vector<FieldSheetPage> equal_pages(std::size_t lines, std::size_t most) {
  const std::size_t pages = (lines + most - 1) / most;
  std::vector<FieldSheetPage> split;
  for (std::size_t page = 0; page < pages; ++page) {
    const std::size_t first = page * lines / pages;
    split.push_back({first, (page + 1) * lines / pages - first, page + 1, pages});
  }
  return split;
}

std::size_t most_lines(std::size_t groups, std::size_t taken) {
  constexpr std::size_t under_one_row = 18;
  constexpr std::size_t least = 6;
  constexpr std::size_t lines_a_row = 2; // that a further row of the key takes the room of
  const std::size_t rows = (std::max<std::size_t>(groups, 1) + groups_abreast - 1) / groups_abreast;
  taken += lines_a_row * (rows - 1);
  return taken + least > under_one_row ? least : under_one_row - taken;
}

pugi::xml_node add_field_sheet_page(pugi::xml_node body, const FieldSheetQuestion& question,
                                    std::string_view heading, const FieldSheetPage& page,
                                    std::vector<std::string> blanks) {
  pugi::xml_node section = add_element(body, "section", "", "sheet");
  add_element(add_element(section, "h2", heading), "span",
              fmt::format(", page {} of {}", page.number, page.pages), "of");
  if (question.farm.empty())
    blanks.insert(blanks.begin(), "Farm");
  add_entries(section, blanks);
  pugi::xml_node entries = section.last_child();
  if (question.day0)
    add_known(entries, "Day 0: " + date_in_words(*question.day0));
  if (!question.farm.empty())
    add_known(entries, "Farm: " + question.farm);
  return section;
}

std::string lines_text(const FieldSheetPage& page, const FieldSheets& sheets) {
  const std::size_t last = page.first + page.lines - 1;
  const bool listed = !sheets.question.mob.empty();
  const auto tag = [&](std::size_t line) { return sheets.animals.at(line).animal.tag; };
  if (page.lines == 1)
    return fmt::format("Line {}{}", last + 1, listed ? ", tag " + tag(last) : "");
  return fmt::format("Lines {} to {}{}", page.first + 1, last + 1,
                     listed ? fmt::format(", tags {} to {}", tag(page.first), tag(last)) : "");
}

std::string foot_text(const FieldSheetQuestion& question) {
  std::string text = "Drench test";
  if (!question.host.empty())
    text += ", " + question.host;
  if (!question.farm.empty())
    text += ", " + question.farm;
  text += question.day0 ? ", day 0 " + iso_date(*question.day0) : ", day 0 ____________";
  return text + fmt::format("; eggfall {}, seed {}", version(), question.seed);
}

} // namespace eggfall
