#include "eggfall/trial/read_trials.hpp"

#include "base/text.hpp"
#include "formats/table.hpp"
#include "trial/control_option.hpp"
#include "trial/counted_groups.hpp"
#include "trial/field_words.hpp"
#include "trial/header_cells.hpp"
#include "trial/lookalikes.hpp"
#include "trial/sum_rows.hpp"
#include "trial/trial_builder.hpp"
#include "trial/trial_time.hpp"
#include "trial/trials_of.hpp"

#include <utility>
#include <vector>

namespace eggfall {

TrialTable read_trials(std::string_view bytes, const Source& source, const ReadOptions& options) {
  return trials_of(read_table(bytes, source, "animal"), options);
}

TrialTable read_trials(const std::vector<CountedGroup>& groups, const ReadOptions& options) {
  ReadOptions told = options;
  told.host = host_told(options.host); // no row can name another, nor be asked what it means
  const Table table = table_of(groups);
  try {
    TrialTable result = trials_of(table, told);
    // The lines are that table's, which nobody has seen.
    for (Group& group : result.trials.front().groups)
      for (Animal& animal : group.animals)
        animal.line = 0;
    return result;
  } catch (const InputError& error) {
    throw told_of_groups(error, groups);
  }
}

void refuse_trial_again(const Source& source, const std::string& trial) {
  throw InputError(
      {Problem{source,
               0,
               0,
               {},
               "a trial " + in_quotes(trial) + " again",
               "each trial in one table only (a column trial names them; a column year or "
               "date_treated tells tests of one name apart)"}});
}

TrialTable trials_of(const Table& table, const ReadOptions& options) {
  Problems problems;
  HeaderCells header(table.header, table.source, problems);
  const TrialColumns columns(header, options.needed);
  problems.throw_if_any();

  // The rows of a trial may lie scattered over the table.
  std::vector<TrialBuilder> trials;
  TestsOfTable tests;
  SumRows sums;
  for (const TableRow& table_row : table.rows) {
    const RowCells row = header.cells_of(table_row);
    if (sums.takes(row, {columns.group, columns.animal}))
      continue;
    const std::string_view name = TrialBuilder::name_of(row, columns, options);
    const TestsOfTable::Place place = tests.place_of(name, row, columns);
    if (place.is_new)
      trials.emplace_back(std::string(name), columns, options);
    trials[place.test].add(row);
  }
  tests.check(columns, table.source, problems);

  TrialTable result;
  Lookalikes names;
  for (const TrialBuilder& rows : trials)
    names.add(rows.name());
  names.tell("trials", table.source, result.notes);
  if (auto note = tests.note(table.source))
    result.notes.push_back(std::move(*note));
  if (auto note = sums.note(table.source))
    result.notes.push_back(std::move(*note));
  if (trials.empty())
    problems.add({table.source, 0, 0, {}, "sums and means alone", "a row for each animal"});
  ControlOption control(options.control);
  for (TrialBuilder& rows : trials) {
    result.trials.push_back(rows.finish(table.source, problems, result.notes));
    control.look_in(result.trials.back());
  }
  control.check(problems);
  problems.throw_if_any();
  if (auto note = header.note())
    result.notes.push_back(std::move(*note));
  return result;
}

} // namespace eggfall
