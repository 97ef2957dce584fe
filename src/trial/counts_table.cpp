#include "trial/counts_table.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/csv_row.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// One line of the table.
struct Row {
  const Trial& trial;
  const Group& group;
  const Animal& animal;
};

struct WrittenColumn {
  std::string head;
  std::function<std::string(const Row&)> cell;
  bool needed = false; ///< Written even if every cell of it is empty.
};

/// A time of sampling: its count of an animal, and of a kind told apart.
struct WrittenOccasion {
  std::optional<Count> Animal::*all;
  std::optional<Count> Samples::*kind;
};

constexpr WrittenOccasion occasion_before{&Animal::before, &Samples::before};
constexpr WrittenOccasion occasion_after{&Animal::after, &Samples::after};

/// Any count of the sample, which all have one factor and one pool: the strongyle eggs may not have
/// been counted where a kind was.
std::optional<Count> a_count(const Animal& animal, const WrittenOccasion& occasion) {
  if (animal.*occasion.all)
    return animal.*occasion.all;
  for (const auto& [worm, samples] : animal.kinds)
    if (samples.*occasion.kind)
      return samples.*occasion.kind;
  return std::nullopt;
}

std::string eggs(const std::optional<Count>& count) {
  return count ? fmt::format("{}", count->eggs.value()) : std::string();
}

std::string date_cell(const std::optional<std::chrono::year_month_day>& date) {
  return date ? iso_date(*date) : std::string();
}

WrittenColumn number(std::string head, std::optional<double> Animal::*member) {
  return {std::move(head), [member](const Row& row) { return csv_cell(row.animal.*member); }};
}

WrittenColumn date(std::string head, std::optional<std::chrono::year_month_day> Animal::*member) {
  return {std::move(head), [member](const Row& row) { return date_cell(row.animal.*member); }};
}

/// Eggs told apart of a worm: a column before and one after, as they are read.
WrittenColumn kind(std::string head, const std::string& worm, const WrittenOccasion& occasion) {
  const auto cell = [worm, occasion](const Row& row) {
    const auto found = row.animal.kinds.find(worm);
    return found == row.animal.kinds.end() ? std::string() : eggs(found->second.*occasion.kind);
  };
  return {std::move(head), cell, true};
}

std::string pool_cell(const Row& row) {
  std::optional<Count> count = a_count(row.animal, occasion_before);
  if (!count)
    count = a_count(row.animal, occasion_after);
  if (!count && !row.animal.visits.empty())
    count = row.animal.visits.front().count;
  return count && count->animals > 1 ? fmt::format("{}", count->animals) : std::string();
}

void add_occasion(std::vector<WrittenColumn>& columns, std::string_view name,
                  const WrittenOccasion& occasion, bool needed) {
  columns.push_back({fmt::format("eggs_{}", name),
                     [occasion](const Row& row) { return eggs(row.animal.*occasion.all); },
                     needed});
  columns.push_back({fmt::format("factor_{}", name), [occasion](const Row& row) {
                       const std::optional<Count> count = a_count(row.animal, occasion);
                       return count ? fmt::format("{}", count->factor.value()) : std::string();
                     }});
}

/// A visit's count and its factor.
void add_visit(std::vector<WrittenColumn>& columns, int day) {
  const auto count_of = [day](const Row& row) {
    const auto visit = std::ranges::find(row.animal.visits, day, &Visit::day);
    return visit == row.animal.visits.end() ? std::nullopt : std::optional(visit->count);
  };
  columns.push_back(
      {fmt::format("eggs_day:{}", day), [=](const Row& row) { return eggs(count_of(row)); }, true});
  columns.push_back({fmt::format("factor_day:{}", day), [=](const Row& row) {
                       const std::optional<Count> count = count_of(row);
                       return count ? fmt::format("{}", count->factor.value()) : std::string();
                     }});
}

std::vector<WrittenColumn> all_columns(const std::set<std::string>& worms,
                                       const std::set<int>& days, bool several) {
  std::vector<WrittenColumn> columns;
  if (several)
    columns.push_back({"trial", [](const Row& row) { return row.trial.name; }, true});
  columns.push_back({"group", [](const Row& row) { return row.group.name; }, true});
  columns.push_back({"animal", [](const Row& row) { return row.animal.tag; }, true});
  columns.push_back({"role", [](const Row& row) -> std::string {
                       if (row.group.role == Role::control)
                         return "control";
                       return sounds_untreated(row.group.name) ? "treated" : "";
                     }});
  columns.push_back({"drench", [](const Row& row) { return row.group.drench; }});
  columns.push_back({"class", [](const Row& row) { return to_string(row.group.classes); }});
  columns.push_back({"host", [](const Row& row) { return row.group.host; }});
  columns.push_back({"worm", [](const Row& row) { return row.group.worm; }});
  columns.push_back({"farm", [](const Row& row) { return row.group.farm; }});
  columns.push_back({"region", [](const Row& row) { return row.group.region; }});
  columns.push_back({"year", [](const Row& row) { return csv_cell(row.group.year); }});
  columns.push_back({"animals_in_pool", pool_cell});
  add_occasion(columns, "before", occasion_before, true);
  add_occasion(columns, "after", occasion_after, days.empty()); // visits may stand in its place
  for (const int day : days)
    add_visit(columns, day);
  for (const std::string& worm : worms) {
    columns.push_back(kind(fmt::format("eggs_before:{}", worm), worm, occasion_before));
    columns.push_back(kind(fmt::format("eggs_after:{}", worm), worm, occasion_after));
  }
  columns.push_back(number("weight_kg", &Animal::weight_kg));
  columns.push_back(number("dose_ml", &Animal::dose_ml));
  columns.push_back(number("mg_per_ml", &Animal::mg_per_ml));
  columns.push_back(number("label_ml_per_kg", &Animal::label_ml_per_kg));
  columns.push_back(date("date_before", &Animal::date_before));
  columns.push_back(date("date_treated", &Animal::date_treated));
  columns.push_back(date("date_after", &Animal::date_after));
  if (days.empty()) // visits have their days in their heads
    columns.push_back(
        {"days_after", [](const Row& row) { return csv_cell(row.animal.days_after); }});
  return columns;
}

void check_name(std::string_view name, std::string_view what) {
  if (trimmed(name).empty())
    throw InputError(fmt::format("{}: found an empty name; expected one", what));
}

/// One that tells a row apart.
void check_row_name(std::string_view name, std::string_view what) {
  check_name(name, what);
  if (is_sum_word(name))
    throw InputError(fmt::format("{}: found {}, which tables say of a sum; expected another name",
                                 what, in_quotes(name)));
}

std::vector<Row> rows_of(const std::vector<Trial>& trials) {
  std::vector<Row> rows;
  for (const Trial& trial : trials) {
    check_name(trial.name, "trial");
    for (const Group& group : trial.groups) {
      check_row_name(group.name, "group");
      for (const Animal& animal : group.animals) {
        check_row_name(animal.tag, "animal");
        rows.push_back({trial, group, animal});
      }
    }
  }
  return rows;
}

void append_culture(std::string& text, const std::vector<std::string>& names, std::string_view time,
                    const Culture& culture) {
  if (culture.percentages || !culture.mixed_groups.empty())
    throw CalculationError("a culture told in percentages, or of several groups, to be written");
  for (const WormLarvae& each : culture.worms) {
    std::vector<std::string> cells = names;
    cells.insert(cells.end(),
                 {std::string(time), csv_cell(each.worm), fmt::format("{}", each.larvae)});
    text += csv_row(cells) + "\r\n";
  }
}

} // namespace

CountsCells counts_cells(const std::vector<Trial>& trials) {
  const std::vector<Row> rows = rows_of(trials);
  std::set<std::string> worms;
  std::set<int> days;
  for (const Row& row : rows)
    for (const Visit& visit : row.animal.visits)
      days.insert(visit.day);
  for (const Row& row : rows)
    for (const auto& [worm, samples] : row.animal.kinds)
      worms.insert(worm);
  CountsCells written;
  written.rows.resize(rows.size());
  for (const WrittenColumn& column : all_columns(worms, days, trials.size() > 1)) {
    std::vector<std::string> cells;
    cells.reserve(rows.size());
    for (const Row& row : rows)
      cells.push_back(column.cell(row));
    const bool empty = std::ranges::all_of(cells, [](const auto& cell) { return cell.empty(); });
    if (empty && !column.needed)
      continue;
    written.columns.push_back(column.head);
    for (std::size_t i = 0; i < rows.size(); ++i)
      written.rows[i].push_back(std::move(cells[i]));
  }
  return written;
}

std::string counts_table(const std::vector<Trial>& trials) {
  const CountsCells cells = counts_cells(trials);
  const auto line = [](const std::vector<std::string>& row) {
    std::vector<std::string> quoted;
    quoted.reserve(row.size());
    for (const std::string& cell : row)
      quoted.push_back(csv_cell(cell));
    return csv_row(quoted) + "\r\n";
  };
  std::string text = line(cells.columns);
  for (const std::vector<std::string>& row : cells.rows)
    text += line(row);
  return text;
}

std::string larvae_table(const std::vector<Trial>& trials) {
  const bool several = trials.size() > 1;
  std::string lines;
  for (const Trial& trial : trials)
    for (const Group& group : trial.groups) {
      std::vector<std::string> names;
      if (several)
        names.push_back(csv_cell(trial.name));
      names.push_back(csv_cell(group.name));
      append_culture(lines, names, "before", group.culture_before);
      append_culture(lines, names, "after", group.culture_after);
    }
  return lines.empty()
             ? lines
             : fmt::format("{}group,time,worm,larvae\r\n{}", several ? "trial," : "", lines);
}

} // namespace eggfall
