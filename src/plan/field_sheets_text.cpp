#include "plan/field_sheets_text.hpp"

#include "base/text.hpp"
#include "formats/terminal_text.hpp"
#include "plan/field_sheet_words.hpp"
#include "plan/group_sign.hpp"
#include "report/safety_note.hpp"

#include <fmt/format.h>

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

std::string balance_rows(const FieldSheets& sheets) {
  const TerminalTable table{2, 15, {{20, Side::left, 1}, {7}, {9}, {13}, {9}}};
  std::string text = table.row("group", {"treatment", "animals", "mean kg", "least - most", "EPG"});
  for (std::size_t i = 0; i < sheets.balance.size(); ++i) {
    const PlannedGroup& group = sheets.question.groups[i];
    const GroupBalance& balance = sheets.balance[i];
    const std::string weights = balance.mean_kg ? fmt::format("{:.1f}", *balance.mean_kg) : "-";
    const std::string range =
        balance.mean_kg ? fmt::format("{:g} - {:g}", *balance.least_kg, *balance.most_kg) : "-";
    const std::string epg = balance.mean_epg ? fmt::format("{:.0f}", *balance.mean_epg) : "-";
    std::string treatment = treatment_text(group);
    if (character_count(treatment) >= 20)
      treatment = wrapped(treatment, 19).front();
    text +=
        table.row(group.name, {treatment, fmt::format("{}", balance.animals), weights, range, epg});
  }
  return text;
}

/// What of each drench the label asks for.
std::string drench_rows(const FieldSheets& sheets) {
  std::string text;
  for (std::size_t i = 0; i < sheets.balance.size(); ++i) {
    const GroupBalance& balance = sheets.balance[i];
    if (balance.doses_ml > 0)
      text += paragraph(fmt::format(
          "Drench for {}: {:g} mL for {} animals weighed, at {}; have some to spare.",
          sheets.question.groups[i].name, balance.doses_ml, balance.animals - balance.without_dose,
          label_text(sheets.question.groups[i])));
  }
  return text;
}

/// What the groups go by in the yard.
std::string sign_row(const FieldSheets& sheets) {
  const std::vector<GroupSign> signs = group_signs(sheets.question.groups);
  std::string text = "Signs on the sheets, and marks on the animals:";
  for (std::size_t i = 0; i < signs.size(); ++i)
    text += fmt::format("{} {} for {}, {}", i == 0 ? "" : ";", signs[i].shape,
                        sheets.question.groups[i].name, signs[i].mark);
  return paragraph(text + ".");
}

} // namespace

std::string field_sheets_text(const FieldSheets& sheets) {
  std::string text = paragraph(allocation_text(sheets)) + balance_rows(sheets) + '\n';
  text += drench_rows(sheets) + sign_row(sheets);
  text += paragraph("Second sample: " + second_sample_days(sheets) + ".");
  for (const std::string& note : second_sample_notes(sheets))
    text += paragraph(note, "  ");
  for (const std::string& caution : field_sheet_cautions(sheets))
    text += paragraph(caution);
  return text + paragraph(cautions());
}

} // namespace eggfall
