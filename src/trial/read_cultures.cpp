#include "eggfall/trial/read_cultures.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "formats/table.hpp"
#include "trial/header_cells.hpp"
#include "trial/sum_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <utility>

namespace eggfall {
namespace {

constexpr std::uint32_t most_larvae = 1'000'000;

struct CultureColumns {
  CultureColumns(HeaderCells& header, bool several_trials)
      : trial(several_trials ? header.needed("trial", "counts of one trial alone")
                             : header.column("trial")),
        group(header.needed("group")), time(header.needed("time")), worm(header.needed("worm")),
        larvae(header.needed("larvae")) {}

  Column trial;
  Column group;
  Column time;
  Column worm;
  Column larvae;
};

template <typename Named> std::vector<std::string> names_of(const std::vector<Named>& all) {
  std::vector<std::string> names;
  for (const Named& each : all)
    names.push_back(each.name);
  return names;
}

/// Puts the rows of a larvae table where they belong.
class CultureRows {
public:
  CultureRows(const CultureColumns& columns, std::vector<Trial>& trials)
      : columns_(columns), trials_(trials) {
    for (Trial& trial : trials)
      for (Group& group : trial.groups)
        groups_.emplace(std::pair{&trial, group.name}, &group);
  }

  void add(const RowCells& row) {
    Group* const group = find_group(row);
    Culture Group::*const time = find_time(row);
    const std::string worm = canonical_worm(row.needed(columns_.worm));
    const std::optional<std::uint32_t> larvae = find_larvae(row);
    if (group == nullptr || time == nullptr || worm.empty())
      return;
    Culture& culture = group->*time;
    const auto [first, fresh] = line_of_.emplace(std::pair{&culture, worm}, row.line());
    if (!fresh)
      row.problem(columns_.worm, fmt::format("{} again", in_quotes(worm)),
                  fmt::format("each worm once for group {} {} treatment (it is on {} already)",
                              in_quotes(group->name),
                              time == &Group::culture_before ? "before" : "after",
                              row.name_of_line(first->second)));
    else if (larvae)
      culture.push_back({worm, *larvae});
  }

private:
  Trial* find_trial(const RowCells& row) {
    const std::string_view name = row.text(columns_.trial);
    if (name.empty() && trials_.size() == 1)
      return &trials_.front();
    const auto found = std::ranges::find(trials_, name, &Trial::name);
    if (found != trials_.end())
      return &*found;
    row.problem(columns_.trial, name.empty() ? "nothing" : "the unknown trial " + in_quotes(name),
                "a trial of the counts: " + quoted_list(names_of(trials_), most_listed));
    return nullptr;
  }

  Group* find_group(const RowCells& row) {
    Trial* const trial = find_trial(row);
    const std::string name = row.needed(columns_.group);
    if (trial == nullptr || name.empty())
      return nullptr;
    const auto found = groups_.find({trial, name});
    if (found != groups_.end())
      return found->second;
    row.problem(columns_.group, "the unknown group " + in_quotes(name),
                fmt::format("a group of trial {}: {}", in_quotes(trial->name),
                            quoted_list(names_of(trial->groups), most_listed)));
    return nullptr;
  }

  Culture Group::*find_time(const RowCells& row) const {
    const std::string_view cell = row.text(columns_.time);
    const std::string time = lower_case(cell);
    if (time == "before")
      return &Group::culture_before;
    if (time == "after")
      return &Group::culture_after;
    row.problem(columns_.time, cell.empty() ? "nothing" : in_quotes(cell), "before or after");
    return nullptr;
  }

  std::optional<std::uint32_t> find_larvae(const RowCells& row) const {
    constexpr std::string_view what = "a whole number of larvae";
    if (row.text(columns_.larvae).empty())
      row.problem(columns_.larvae, "nothing",
                  fmt::format("{} from 0 to {} (leave out the line of a worm that was not looked "
                              "for)",
                              what, most_larvae));
    return row.whole_number(columns_.larvae, 0, most_larvae, what);
  }

  static constexpr std::size_t most_listed = 20;

  const CultureColumns& columns_;
  std::vector<Trial>& trials_;
  std::map<std::pair<const Trial*, std::string>, Group*> groups_;
  std::map<std::pair<const Culture*, std::string>, std::size_t> line_of_;
};

} // namespace

TrialTable read_cultures(std::string_view bytes, const Source& source, std::vector<Trial> trials) {
  const Table table = read_table(bytes, source, "worm");
  Problems problems;
  HeaderCells header(table.header, table.source, problems);
  const CultureColumns columns(header, trials.size() > 1);
  problems.throw_if_any();

  CultureRows rows(columns, trials);
  SumRows sums;
  for (const TableRow& table_row : table.rows)
    if (const RowCells row = header.cells_of(table_row);
        !sums.takes(row, {columns.group, columns.worm}))
      rows.add(row);
  problems.throw_if_any();

  TrialTable result{std::move(trials), {}};
  if (auto note = sums.note(table.source))
    result.notes.push_back(std::move(*note));
  if (auto note = header.note())
    result.notes.push_back(std::move(*note));
  return result;
}

} // namespace eggfall
