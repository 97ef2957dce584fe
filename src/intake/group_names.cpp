#include "intake/group_names.hpp"

#include "base/text.hpp"
#include "intake/open_question.hpp"
#include "intake/same_animal.hpp"

#include <fmt/format.h>

#include <map>
#include <set>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

/// The different texts of a column, the empty one aside.
std::set<std::string_view> values_of(const SheetReading& reading, const ColumnReading* column) {
  std::set<std::string_view> values;
  if (column != nullptr)
    for (const SampleRow& row : reading.rows)
      if (const std::string_view cell = row.cell(column->index); !cell.empty())
        values.insert(cell);
  return values;
}

/// A row whose group has another drench than in the rows above; nothing if each group has one.
const SampleRow* first_of_two_drenches(const SheetReading& reading, const ColumnReading& group,
                                       const ColumnReading& drench) {
  std::map<std::vector<std::string_view>, std::string_view> drench_of;
  for (const SampleRow& row : reading.rows) {
    const std::string_view given = row.cell(drench.index);
    if (given.empty() || row.cell(group.index).empty())
      continue;
    std::vector<std::string_view> named{row.cell(group.index)}; // in its trial
    for (const std::string_view mark : trial_marks)
      if (const ColumnReading* const column = reading.attribute(mark))
        named.push_back(row.cell(column->index));
    const auto [found, fresh] = drench_of.emplace(std::move(named), given);
    if (!fresh && found->second != given)
      return &row;
  }
  return nullptr;
}

} // namespace

GroupNames::GroupNames(const SheetReading& reading, ReadingLog& log)
    : column_(reading.attribute("group")) {
  choose(reading, log);
  merged_ = column_ != nullptr && is_merged(reading, *column_);
}

void GroupNames::choose(const SheetReading& reading, ReadingLog& log) {
  const ColumnReading* const drench = reading.attribute("drench");
  const ColumnReading* const role = reading.attribute("role");
  const std::string shown = reading.sheet->source.shown();
  sections_ = !reading.rows.empty() && !reading.rows.front().section.empty();
  const bool one_group = values_of(reading, column_).size() <= 1;
  const auto take_instead = [&](const ColumnReading* column) {
    if (column_ != nullptr)
      log.tell(fmt::format("{}: {} is the same in every row: {} names the groups", shown,
                           in_quotes(column_->head), in_quotes(column->head)));
    else
      log.add(
          fmt::format("{}: no column of groups: {} names them", shown, in_quotes(column->head)));
    column_ = column;
  };
  if (column_ != nullptr && column_->by_layout)
    return;
  if (one_group && !sections_) {
    if (values_of(reading, drench).size() > 1)
      take_instead(drench);
    else if (values_of(reading, role).size() > 1)
      take_instead(role);
    else if (column_ == nullptr && drench != nullptr && !values_of(reading, drench).empty())
      take_instead(drench);
    else if (column_ == nullptr && !values_of(reading, role).empty())
      take_instead(role); // whose empty cells are of no group, and not of the treated
    return;
  }
  if (column_ == nullptr || drench == nullptr)
    return;
  if (const SampleRow* const row = first_of_two_drenches(reading, *column_, *drench))
    throw OpenQuestion(
        {reading.sheet->source,
         row->row->line,
         drench->index + 1,
         drench->head,
         fmt::format("animals of one {} with different entries under {}, so that "
                     "either could name the groups",
                     in_quotes(column_->head), in_quotes(drench->head)),
         {}},
        {answer("column", "group=" + drench->head, "compare these"),
         answer("column", "group=" + column_->head, "each with one drench, once mended")});
}

bool is_merged(const SheetReading& reading, const ColumnReading& column) {
  std::set<std::string_view> seen;
  bool empty = false;
  for (const SampleRow& row : reading.rows) {
    const std::string_view cell = row.cell(column.index);
    empty = empty || cell.empty();
    if (!cell.empty() && !seen.insert(cell).second)
      return false;
  }
  return empty && !seen.empty();
}

std::string GroupNames::name_of(const SampleRow& row) {
  if (sections_)
    return row.section;
  if (column_ == nullptr)
    return std::string(only_group);
  const std::string_view cell = row.cell(column_->index);
  if (!cell.empty() || !merged_) {
    last_ = cell;
    return last_;
  }
  if (!last_.empty())
    ++filled_down_;
  return last_;
}

} // namespace eggfall
