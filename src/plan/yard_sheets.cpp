#include "plan/yard_sheets.hpp"

#include "base/date.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/paper_form.hpp"
#include "plan/field_sheet_words.hpp"
#include "plan/group_sign.hpp"
#include "plan/sheet_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

namespace eggfall {
namespace {

enum class YardCell { line, order, tag, sign, dose, given, weight, sample, mark, notes };

struct YardColumn {
  YardCell cell;
  std::string_view head;
  int share; ///< Of the width, in the units of the table's sum.
};

/// The dose stands beside the tag and the sign, so that no eye slips into another line between
/// them.
constexpr std::string_view mark_head = "Group; mark, when done";
constexpr YardColumn listed_columns[]{
    {YardCell::line, "Line", 9},        {YardCell::tag, "Animal", 24},
    {YardCell::sign, "Sign", 14},       {YardCell::dose, "Dose, mL", 26},
    {YardCell::given, "Given, mL", 20}, {YardCell::weight, "Weight, kg", 18},
    {YardCell::sample, "Sample", 15},   {YardCell::mark, mark_head, 36},
    {YardCell::notes, "Notes", 18}};
constexpr YardColumn race_columns[]{
    {YardCell::order, "Order", 16},          {YardCell::sign, "Sign", 15},
    {YardCell::tag, "Animal's tag", 33},     {YardCell::weight, "Weight, kg", 19},
    {YardCell::given, "Dose given, mL", 38}, {YardCell::sample, "Sample", 14},
    {YardCell::mark, mark_head, 38},         {YardCell::notes, "Notes", 16}};
constexpr YardColumn second_columns[]{
    {YardCell::line, "Line", 9},         {YardCell::tag, "Animal", 36},
    {YardCell::sign, "Sign", 15},        {YardCell::sample, "Sample", 20},
    {YardCell::mark, "Group; mark", 42}, {YardCell::notes, "Notes", 58}};

/// Enough for the weight that has most, so that all stand under each other; at most 2.
int decimals_of_weights(const std::vector<PlannedAnimal>& animals) {
  int most = 0;
  for (const PlannedAnimal& each : animals) {
    const std::string text = fmt::format("{:.2f}", each.animal.weight_kg.value_or(0));
    most = std::max(most, text.ends_with("00") ? 0 : text.ends_with('0') ? 1 : 2);
  }
  return most;
}

/// A sheet's columns, and what else its lines are made from.
struct YardSheet {
  const FieldSheets& sheets;
  std::vector<YardColumn> columns;
  std::vector<GroupSign> signs = group_signs(sheets.question.groups);
  int weight_decimals = decimals_of_weights(sheets.animals);

  bool has(YardCell cell) const {
    return std::ranges::find(columns, cell, &YardColumn::cell) != columns.end();
  }
  bool listed() const { return !sheets.question.mob.empty(); }
};

/// The decimals are smaller than what stands before them, so that 6.0 is not read as 60.
void add_dose(pugi::xml_node cell, double dose_ml, int decimals) {
  const std::string text = fmt::format("{:.{}f}", dose_ml, decimals);
  const std::size_t point = std::min(text.find('.'), text.size());
  append_words(cell, text.substr(0, point));
  add_element(cell, "span", text.substr(point));
}

void add_no_drench(pugi::xml_node row, unsigned columns) {
  pugi::xml_node cell = add_element(row, "td", "", "amount no-drench");
  if (columns > 1)
    cell.append_attribute("colspan").set_value(columns);
  pugi::xml_node line = add_element(cell, "div");
  add_inked_svg(line, hatching());
  add_element(line, "strong", "NO DRENCH");
  add_inked_svg(line, hatching());
}

/// The head of a line: th where it names the line.
pugi::xml_node add_row_head(pugi::xml_node row, std::string_view text, std::string_view css_class) {
  pugi::xml_node cell = add_element(row, "th", text, css_class);
  cell.append_attribute("scope").set_value("row");
  return cell;
}

pugi::xml_node add_tag(pugi::xml_node row, const YardSheet& sheet, const PlannedAnimal& each) {
  return sheet.listed() ? add_row_head(row, each.animal.tag, "tag")
                        : add_element(row, "td", "", "tag to-write");
}

pugi::xml_node add_weight(pugi::xml_node row, const YardSheet& sheet, const PlannedAnimal& each) {
  if (!each.animal.weight_kg)
    return add_element(row, "td", "", "to-write");
  pugi::xml_node cell = add_element(
      row, "td", fmt::format("{:.{}f}", *each.animal.weight_kg, sheet.weight_decimals), "weight");
  cell.append_attribute("data-head").set_value("kg");
  return cell;
}

/// Gives the cell, or nothing where it is hatched all over or has no cell of its own.
pugi::xml_node add_yard_cell(pugi::xml_node row, const YardSheet& sheet, YardCell cell,
                             std::size_t i) {
  const PlannedAnimal& each = sheet.sheets.animals[i];
  const PlannedGroup& group = sheet.sheets.question.groups[each.group];
  const GroupSign& sign = sheet.signs[each.group];
  switch (cell) {
  case YardCell::line:
    return sheet.listed() ? add_element(row, "td", fmt::format("{}", i + 1), "line")
                          : add_row_head(row, fmt::format("{}", i + 1), "order");
  case YardCell::order:
    return add_row_head(row, ordinal(i + 1), "order");
  case YardCell::tag:
    return add_tag(row, sheet, each);
  case YardCell::sign: {
    pugi::xml_node shape = add_element(row, "td", "", "shape");
    add_inked_svg(shape, sign.svg);
    return shape;
  }
  case YardCell::dose: {
    if (!group.treated()) {
      add_no_drench(row, sheet.has(YardCell::given) ? 2 : 1);
      return {};
    }
    pugi::xml_node dose = add_element(row, "td", "", "amount dose");
    if (each.dose_ml)
      add_dose(dose, *each.dose_ml, sheet.sheets.question.dose_decimals());
    return dose;
  }
  case YardCell::given:
    if (group.treated())
      return add_element(row, "td", "", sheet.listed() ? "to-write" : "amount dose");
    if (!sheet.has(YardCell::dose)) // or else its cell is one with that of the dose
      add_no_drench(row, 1);
    return {};
  case YardCell::weight:
    return add_weight(row, sheet, each);
  case YardCell::mark: {
    pugi::xml_node mark = add_element(row, "td", "", "mark");
    add_element(mark, "strong", fmt::format("{}: {}", sign.shape, group.name));
    append_words(mark, sign.mark);
    return mark;
  }
  case YardCell::sample:
  case YardCell::notes:
    break;
  }
  return add_element(row, "td", "", "to-write");
}

void add_yard_heads(pugi::xml_node table, const YardSheet& sheet, std::string_view running) {
  int sum = 0;
  for (const YardColumn& column : sheet.columns)
    sum += column.share;
  pugi::xml_node widths = table.append_child("colgroup");
  for (const YardColumn& column : sheet.columns)
    widths.append_child("col").append_attribute("style").set_value(
        fmt::format("width: {:.1f}%", 100.0 * column.share / sum).c_str());
  pugi::xml_node above = table.append_child("thead");
  add_element(above.append_child("tr"), "th", running, "running")
      .append_attribute("colspan")
      .set_value(static_cast<unsigned>(sheet.columns.size()));
  pugi::xml_node heads = above.append_child("tr");
  for (const YardColumn& column : sheet.columns)
    add_element(heads, "th", column.head).append_attribute("scope").set_value("col");
}

void add_yard_table(pugi::xml_node section, const YardSheet& sheet, std::string_view name,
                    const SheetPage& page) {
  const std::string running = fmt::format("{}. {}", name, lines_text(page));
  pugi::xml_node table = add_element(add_scrolling(section, "div", running), "table", "", "yard");
  add_yard_heads(table, sheet, running);
  pugi::xml_node rows = table.append_child("tbody");
  for (std::size_t i = page.first; i < page.first + page.lines; ++i) {
    pugi::xml_node row = rows.append_child("tr");
    const bool treated = sheet.sheets.question.groups[sheet.sheets.animals[i].group].treated();
    for (const YardColumn& column : sheet.columns)
      if (pugi::xml_node cell = add_yard_cell(row, sheet, column.cell, i); cell && !treated)
        add_inked_svg(cell, hatched_edges());
  }
}

/// What is done to a group, with the day, so that the key drenches nobody on the second visit.
std::string group_orders(const PlannedGroup& group) {
  if (!group.treated())
    return "day 0: NO DRENCH";
  std::string text = "day 0: drench";
  if (const std::string treatment = treatment_text(group); !treatment.empty())
    text += " " + treatment;
  return text + (group.label ? fmt::format(", {:.4g} mL per kg", group.label->ml_per_kg())
                             : std::string(", mL by the label"));
}

/// What to do with each animal, in this order: the mark is last, so that it tells what is done.
std::string each_animal(const FieldSheets& sheets) {
  const bool control = sheets.question.has_control();
  return fmt::format(
      "Each animal: {}sample, weigh, look at the sign. Solid sign: drench, {}.{} Write down what "
      "was given, then spray the mark.",
      sheets.question.mob.empty() ? "write the tag, " : "read the tag, find its line, ",
      sheets.question.mob.empty() ? "by its weight and the label" : "the dose of this line",
      control ? " Ring and hatching: NO DRENCH." : "");
}

/// How to read off a random order, where no animal is listed.
constexpr std::string_view race_order =
    "How to use it: take the animals as they come through the race. The first belongs to the line "
    "1st, the next to 2nd, and so on: read out the shape, and do that animal. Skip no line, swap "
    "no animals, hold none back; one that is not fit for the test is let through before its line "
    "is read.";

constexpr std::string_view yard_caution =
    "Wear gloves and wash hands. Follow the label for dose, route, species and withholding period, "
    "and local rules; ask the veterinarian where in doubt.";

constexpr std::string_view control_caution =
    "An untreated animal that falls ill is treated at once, and that is written down.";

std::vector<YardColumn> yard_columns(const FieldSheets& sheets) {
  if (sheets.question.mob.empty())
    return {std::begin(race_columns), std::end(race_columns)};
  return {std::begin(listed_columns), std::end(listed_columns)};
}

std::vector<std::string> treatment_blanks(const FieldSheetQuestion& question,
                                          const SheetPage& page) {
  std::vector<std::string> blanks{question.day0 ? "Date, if another" : "Date", "Filled in by"};
  if (page.number == 1) {
    blanks.insert(blanks.end(), {"Withheld, days: meat", "milk", "Not for slaughter before"});
  }
  return blanks;
}

} // namespace

void add_group_key(pugi::xml_node parent, const FieldSheets& sheets) {
  const std::vector<GroupSign> signs = group_signs(sheets.question.groups);
  pugi::xml_node key = add_element(parent, "ul", "", "key");
  for (std::size_t i = 0; i < signs.size(); ++i) {
    const PlannedGroup& group = sheets.question.groups[i];
    pugi::xml_node entry = add_element(key, "li");
    add_inked_svg(entry, signs[i].svg);
    pugi::xml_node words = add_element(entry, "span");
    add_element(words, "strong", fmt::format("{}: {}", signs[i].shape, group.name));
    append_words(words, group_orders(group));
    add_element(words, "br");
    append_words(words, "mark: " + signs[i].mark);
    add_inked_svg(entry, signs[i].mark_svg);
  }
}

void add_treatment_sheet(pugi::xml_node body, const FieldSheets& sheets) {
  const FieldSheetQuestion& question = sheets.question;
  const YardSheet sheet{sheets, yard_columns(sheets)};
  for (const SheetPage& page :
       equal_pages(sheets.animals.size(), most_lines(question.groups.size()))) {
    pugi::xml_node section = add_sheet_page(body, question, "Yard sheet: day of treatment", page,
                                            treatment_blanks(question, page));
    add_group_key(section, sheets);
    if (!sheet.listed() && question.groups.size() > 1)
      add_element(section, "p", race_order, "how");
    add_element(section, "p", each_animal(sheets), "how");
    add_yard_table(section, sheet, "Day of treatment", page);
    std::string note = "Sample: a tick when it is taken. ";
    if (sheet.listed())
      note += "Given: what the animal really got; if it spat or was missed, say so in the notes. "
              "Weights printed here are those of the list: weigh again if they are old, and work "
              "out the dose anew. ";
    else
      note += "If an animal spat or was missed, say so in the notes. ";
    if (page.number == 1)
      note += "Withheld: by the label, the longest of all drenches. ";
    if (question.has_control())
      note += std::string(control_caution) + " ";
    add_element(section, "p", note + std::string(yard_caution), "note");
  }
}

void add_second_sheet(pugi::xml_node body, const FieldSheets& sheets) {
  const FieldSheetQuestion& question = sheets.question;
  const YardSheet sheet{
      sheets, {std::begin(second_columns), std::end(second_columns)}, group_signs(question.groups)};
  for (const SheetPage& page :
       equal_pages(sheets.animals.size(), most_lines(question.groups.size()))) {
    pugi::xml_node section =
        add_sheet_page(body, question, "Yard sheet: second sample", page, {"Date", "Filled in by"});
    add_element(section, "p", second_sample_days(sheets) + ".", "known");
    add_group_key(section, sheets);
    add_element(section, "p",
                std::string(sheet.listed() ? ""
                                           : "Copy the tags from the first sheet before the "
                                             "day. ") +
                    "Sample the same animals, each found by its tag; the mark is a check. Drench "
                    "none before its sample is taken. Sample: a tick when it is taken.",
                "how");
    add_yard_table(section, sheet, "Second sample", page);
    add_element(section, "p", yard_caution, "note");
  }
}

} // namespace eggfall
