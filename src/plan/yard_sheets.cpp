#include "plan/yard_sheets.hpp"

#include "base/date.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/drawing/paper_form.hpp"
#include "plan/dose_strip.hpp"
#include "plan/field_sheet_page.hpp"
#include "plan/field_sheet_words.hpp"
#include "plan/group_sign.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

namespace eggfall {
namespace {

enum class YardCell { line, order, tag, sign, dose, given, listed, weight, sample, mark, notes };

struct YardColumn {
  std::string_view head;
  YardCell cell;
  int share; ///< Of the width, in the units of the table's sum.
};

constexpr std::string_view mark_head = "Group; mark, when done";

/// The dose stands beside the tag and the sign, so that no eye slips into another line between
/// them. Weights are the list's, of a day nobody wrote down: today's has a cell of its own.
constexpr std::array<YardColumn, 10> listed_columns{{{"Line", YardCell::line, 9},
                                                     {"Animal", YardCell::tag, 22},
                                                     {"Sign", YardCell::sign, 14},
                                                     {"Dose, mL", YardCell::dose, 25},
                                                     {"Given, mL", YardCell::given, 19},
                                                     {"Listed kg", YardCell::listed, 14},
                                                     {"Today kg", YardCell::weight, 16},
                                                     {"Sample", YardCell::sample, 14},
                                                     {mark_head, YardCell::mark, 36},
                                                     {"Notes", YardCell::notes, 18}}};
/// In the order of what is done: who an animal is, its sample and its weight come before the sign.
constexpr std::array<YardColumn, 8> race_columns{{{"Order", YardCell::order, 16},
                                                  {"Animal's tag", YardCell::tag, 33},
                                                  {"Sample", YardCell::sample, 14},
                                                  {"Today kg", YardCell::weight, 19},
                                                  {"Sign", YardCell::sign, 15},
                                                  {"Dose given, mL", YardCell::given, 38},
                                                  {mark_head, YardCell::mark, 38},
                                                  {"Notes", YardCell::notes, 16}}};
constexpr std::array<YardColumn, 6> second_columns{{{"Line", YardCell::line, 9},
                                                    {"Animal", YardCell::tag, 36},
                                                    {"Sign", YardCell::sign, 15},
                                                    {"Sample", YardCell::sample, 20},
                                                    {"Group; mark", YardCell::mark, 42},
                                                    {"Notes", YardCell::notes, 58}}};

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

pugi::xml_node add_listed_weight(pugi::xml_node row, const YardSheet& sheet,
                                 const PlannedAnimal& each) {
  if (!each.animal.weight_kg)
    return add_element(row, "td", "", "weight");
  pugi::xml_node cell = add_element(
      row, "td", fmt::format("{:.{}f}", *each.animal.weight_kg, sheet.weight_decimals), "weight");
  cell.append_attribute("data-head").set_value("kg listed");
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
  case YardCell::listed:
    return add_listed_weight(row, sheet, each);
  case YardCell::mark: {
    pugi::xml_node mark = add_element(row, "td", "", "mark");
    add_element(mark, "strong", fmt::format("{}: {}", sign.word(), group.name));
    append_words(mark, sign.mark);
    return mark;
  }
  case YardCell::weight:
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
                    const FieldSheetPage& page) {
  const std::string running = fmt::format("{}. {}", name, lines_text(page, sheet.sheets));
  pugi::xml_node table = add_element(add_scrolling(section, "div", running), "table", "", "yard");
  add_yard_heads(table, sheet, running);
  pugi::xml_node rows = table.append_child("tbody");
  for (std::size_t i = page.first; i < page.first + page.lines; ++i) {
    const bool treated = sheet.sheets.question.groups[sheet.sheets.animals[i].group].treated();
    pugi::xml_node row = add_element(rows, "tr", "", treated ? "" : "untreated");
    for (const YardColumn& column : sheet.columns)
      if (pugi::xml_node cell = add_yard_cell(row, sheet, column.cell, i);
          !cell.empty() && !treated)
        add_inked_svg(cell, hatched_edges());
  }
}

/// "SQUARE: white (BZ)", "RING: keepers, NO DRENCH"
std::string sign_and_group(const GroupSign& sign, const PlannedGroup& group) {
  if (!group.treated())
    return fmt::format("{}: {}, NO DRENCH", sign.word(), group.name);
  const std::string treatment = treatment_text(group);
  return fmt::format("{}: {}{}", sign.word(), group.name,
                     treatment.empty() ? "" : fmt::format(" ({})", treatment));
}

/// What a treated group gets, with the day, so that the key drenches nobody on the second visit.
std::string group_orders(const PlannedGroup& group) {
  return group.label ? fmt::format("day 0: drench {:.4g} mL per kg", group.label->ml_per_kg())
                     : std::string("day 0: drench, mL by the label");
}

/// What to do with each animal, in this order: the mark is last, so that it tells what is done.
std::string each_animal(const YardSheet& sheet) {
  const std::size_t strips = groups_without_dose(sheet.sheets).size();
  const bool by_lines = sheet.has(YardCell::dose);
  std::string dose =
      by_lines ? "the dose of this line" : "the dose for today's weight by its strip";
  if (by_lines && strips > 0)
    dose += ", or where it has none that for today's weight by its strip";
  return fmt::format("Each animal, in this order: {} the tag, sample, weigh, look at the sign. "
                     "Solid sign: drench, "
                     "{}.{} Write down what was given, then spray the mark.",
                     sheet.listed() ? "find the line of" : "write down", dose,
                     sheet.sheets.question.has_control() ? " Ring and hatching: NO DRENCH." : "");
}

/// Rates of the groups whose lines bear doses, for animals that have grown since they were listed.
std::string heavier_today(const YardSheet& sheet) {
  const FieldSheets& sheets = sheet.sheets;
  std::string rates;
  for (std::size_t i = 0; i < sheets.balance.size(); ++i)
    if (sheets.balance[i].doses_ml > 0)
      rates += fmt::format("{}{} {:.4g} mL per kg", rates.empty() ? "" : ", ",
                           sheet.signs[i].word(), sheets.question.groups[i].label->ml_per_kg());
  return rates.empty()
             ? rates
             : fmt::format("Another weight today? Give the label's dose for today's weight: {}, "
                           "rounded up to {:g} mL.",
                           rates, sheets.question.dose_step_ml);
}

/// What may go wrong in the yard, and is better told than hidden.
constexpr std::string_view drenched_by_mistake =
    "Drenched one with a ring by mistake? Write it under Notes; its count after does not count as "
    "untreated.";

/// A sample is its line's and its tag's, whatever the mark says.
constexpr std::string_view pot_labels =
    "Label each pot with line number and tag, not the group. The tag decides who an animal is; the "
    "mark is only a check.";

/// How to read off a random order, where no animal is listed.
constexpr std::string_view race_order =
    "How to use it: take the animals as they come through the race. The first belongs to the line "
    "1st, the next to 2nd, and so on. Skip no line, swap no animals, hold none back; one that is "
    "not fit for the test is let through before its line is begun. No dung? Let it go, cross out "
    "its tag, and use the line for the next.";

constexpr std::string_view yard_caution =
    "Wear gloves and wash hands. Follow the label for dose, route, species and withholding period, "
    "and local rules; ask the veterinarian where in doubt.";

constexpr std::string_view control_caution =
    "An untreated animal that falls ill is treated at once, and that is written down.";

std::vector<YardColumn> yard_columns(const FieldSheets& sheets) {
  if (sheets.question.mob.empty())
    return {std::begin(race_columns), std::end(race_columns)};
  std::vector<YardColumn> columns{std::begin(listed_columns), std::end(listed_columns)};
  const bool weighed = std::ranges::any_of(
      sheets.balance, [](const GroupBalance& balance) { return balance.weighed > 0; });
  if (!weighed)
    std::erase_if(columns,
                  [](const YardColumn& column) { return column.cell == YardCell::listed; });
  return columns;
}

/// When to sample again, which is decided before the animals leave the race: by the dates of the
/// days, or by a date to write if day 0 moves.
std::vector<std::string> sample_again(const FieldSheets& sheets) {
  const auto& day0 = sheets.question.day0;
  const SecondSample& second = sheets.second_samples.front();
  const auto when = [&day0](const std::string& days) {
    return day0 ? days.substr(days.find(": ") + 2) + ", or" : days + ", date";
  };
  std::vector<std::string> blanks{
      "Sample again: " + when(day0 ? second_sample_days(sheets)
                                   : days_with_dates(day0, second.first_day, second.last_day))};
  for (const ExtraVisit& visit : extra_visits(sheets))
    blanks.push_back(fmt::format("{} also: {}", visit.who, when(visit.days)));
  return blanks;
}

/// How long meat and milk are withheld stands on every page, for pages part.
std::vector<std::string> yard_blanks(std::string_view date, const std::vector<std::string>& again) {
  std::vector<std::string> blanks{std::string(date), "Filled in by"};
  blanks.insert(blanks.end(), again.begin(), again.end());
  blanks.insert(blanks.end(), {"Withholding (withdrawal) period, days: meat", "milk",
                               "Not for slaughter before"});
  return blanks;
}

/// What strips and the longer instructions of a race take of the room for lines.
std::size_t room_above(const FieldSheets& sheets) {
  constexpr std::size_t lines_of_strip_words = 1;
  constexpr std::size_t lines_four_strips = 5;
  constexpr std::size_t lines_of_race_words = 1;
  const std::size_t strips = groups_without_dose(sheets).size();
  return (strips == 0 ? 0 : lines_of_strip_words + (strips * lines_four_strips + 3) / 4) +
         (sheets.question.mob.empty() ? lines_of_race_words : 0);
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
    add_element(words, "strong", sign_and_group(signs[i], group));
    if (group.treated()) {
      append_words(words, group_orders(group));
      add_element(words, "br");
    }
    append_words(words, "mark: " + signs[i].mark);
    add_inked_svg(entry, signs[i].mark_svg);
  }
}

void add_treatment_sheet(pugi::xml_node body, const FieldSheets& sheets) {
  const FieldSheetQuestion& question = sheets.question;
  const YardSheet sheet{sheets, yard_columns(sheets)};
  const std::string heavier = heavier_today(sheet);
  for (const FieldSheetPage& page :
       equal_pages(sheets.animals.size(), most_lines(question.groups.size(), room_above(sheets)))) {
    pugi::xml_node section = add_field_sheet_page(
        body, question, "Yard sheet: day of treatment", page,
        yard_blanks(question.day0 ? "Date, if another" : "Date", sample_again(sheets)));
    add_group_key(section, sheets);
    if (!sheet.listed() && question.groups.size() > 1)
      add_element(section, "p", race_order, "how");
    add_element(section, "p", each_animal(sheet), "how");
    if (!heavier.empty())
      add_element(section, "p", heavier, "how");
    add_element(section, "p",
                std::string(pot_labels) +
                    (question.has_control() ? " " + std::string(drenched_by_mistake) : ""),
                "how");
    add_dose_strips(section, sheets);
    add_yard_table(section, sheet, "Day of treatment", page);
    std::string note = "Sample: a tick when it is taken. ";
    if (sheet.listed())
      note += "Given: what the animal really got; if it spat or was missed, say so in the notes. ";
    else
      note += "If an animal spat or was missed, say so in the notes. ";
    note += "Withholding period: by the label, the longest of all drenches. ";
    if (question.has_control())
      note += std::string(control_caution) + " ";
    add_element(section, "p", note + std::string(yard_caution), "note");
  }
}

void add_second_sheet(pugi::xml_node body, const FieldSheets& sheets) {
  const FieldSheetQuestion& question = sheets.question;
  const YardSheet sheet{
      sheets, {std::begin(second_columns), std::end(second_columns)}, group_signs(question.groups)};
  for (const FieldSheetPage& page :
       equal_pages(sheets.animals.size(), most_lines(question.groups.size()))) {
    pugi::xml_node section = add_field_sheet_page(body, question, "Yard sheet: second sample", page,
                                                  yard_blanks("Date", {}));
    std::string days = second_sample_days(sheets) + ".";
    for (const ExtraVisit& visit : extra_visits(sheets))
      days += fmt::format(" On a copy, if you can: {}, {}.", visit.who, visit.days);
    add_element(section, "p", days, "known");
    add_group_key(section, sheets);
    add_element(
        section, "p",
        fmt::format(
            "{}Sample the same animals, each found by its tag. {} Drench none "
            "before its sample is taken{}. Sample: a tick when it is taken.",
            sheet.listed() ? "" : "Copy the tags from the first sheet before the day. ", pot_labels,
            question.has_control() ? ", and the control not before the last second sample" : ""),
        "how");
    add_yard_table(section, sheet, "Second sample", page);
    add_element(section, "p", yard_caution, "note");
  }
}

} // namespace eggfall
