#include "trial_rows.hpp"

#include "eggfall/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <map>
#include <string_view>

namespace eggfall {
namespace {

constexpr double heaviest_kg = 2'000;
constexpr double largest_dose_ml = 2'000;

/// The factor of a row: its own column, or else the option.
std::optional<MultiplicationFactor> read_factor(const RowCells& row, const Column& column,
                                                const std::optional<MultiplicationFactor>& option) {
  if (row.text(column).empty())
    return option;
  const auto value = row.number(column, MultiplicationFactor::largest, "a multiplication factor");
  return value ? std::optional(MultiplicationFactor(*value)) : std::nullopt;
}

std::optional<double> parse_eggs(std::string_view cell) {
  const auto value = parse_whole_number(cell);
  return value ? std::optional(static_cast<double>(*value)) : std::nullopt;
}

/// "1.250" may be a thousand and more, as "1,250" may.
std::optional<double> parse_epg(std::string_view cell) {
  const auto point = cell.find('.');
  const bool thousands =
      point != std::string_view::npos && cell.size() == point + 4 && cell[0] != '0';
  const auto value = thousands ? std::nullopt : parse_number(cell);
  return value && *value >= 0 ? value : std::nullopt;
}

std::optional<Count> from_epg(const RowCells& row, const Column& column, double epg,
                              MultiplicationFactor factor) {
  if (const auto eggs = eggs_behind(Epg(epg), factor))
    return Count{*eggs, factor};
  const double below = std::floor(epg / factor.value());
  if (below >= EggsSeen::largest)
    row.problem(column, fmt::format("{} EPG", epg),
                fmt::format("at most {} eggs seen", EggsSeen::largest));
  else
    row.problem(
        column, fmt::format("{} EPG", epg),
        fmt::format("a whole multiple of the factor {}, such as {} or {} (is the factor right? "
                    "an average of several counts is no count)",
                    factor.value(), below * factor.value(), (below + 1) * factor.value()));
  return std::nullopt;
}

std::optional<Count> read_count(const RowCells& row, const CountColumns& columns,
                                const std::optional<MultiplicationFactor>& option) {
  const Column& column = columns.count;
  const std::string_view cell = row.text(column);
  const auto factor = read_factor(row, columns.factor, option);
  if (cell.empty())
    return std::nullopt;
  const auto value = columns.as_epg ? parse_epg(cell) : parse_eggs(cell);
  if (!value) {
    row.problem(column, in_quotes(cell),
                columns.as_epg
                    ? "eggs per gram, 0 or more (leave it empty if not sampled)"
                    : "a whole number of eggs seen, 0 or more (leave it empty if not sampled)");
    return std::nullopt;
  }
  if (!factor) {
    // A bad factor cell has been told already.
    if (row.text(columns.factor).empty())
      row.problem_once(column, "a count without a multiplication factor",
                       fmt::format("a column {}, or the option --factor ('eggfall factor' works "
                                   "it out from the bench figures)",
                                   columns.factor.name));
    return std::nullopt;
  }
  if (columns.as_epg)
    return from_epg(row, column, *value, *factor);
  if (*value > EggsSeen::largest) {
    row.problem(column, in_quotes(cell), fmt::format("at most {} eggs seen", EggsSeen::largest));
    return std::nullopt;
  }
  return Count{EggsSeen(static_cast<std::uint32_t>(*value)), *factor};
}

std::vector<DrugClass> drug_classes(const RowCells& row, const Column& column) {
  std::vector<DrugClass> classes;
  std::string_view rest = row.text(column);
  while (!rest.empty()) {
    const auto plus = rest.find('+');
    const std::string_view word = trimmed(rest.substr(0, plus));
    rest = plus == std::string_view::npos ? std::string_view{} : rest.substr(plus + 1);
    const auto parsed = parse_drug_class(word);
    if (!parsed) {
      row.problem(column, in_quotes(row.text(column)),
                  "BZ, LV, ML, AD, SI or PYR, or several joined by +");
      return {};
    }
    if (std::ranges::find(classes, *parsed) == classes.end())
      classes.push_back(*parsed);
  }
  std::ranges::sort(classes);
  return classes;
}

/// Nothing for an empty cell, which agrees with any role.
std::optional<Role> role_of(const RowCells& row, const Column& column) {
  const std::string_view cell = row.text(column);
  if (cell.empty())
    return std::nullopt;
  const std::string word = lower_case(cell);
  if (word == "treated")
    return Role::treated;
  if (word == "control")
    return Role::control;
  row.problem(column, in_quotes(cell), "treated or control");
  return std::nullopt;
}

void check_dates(const Animal& animal, const RowCells& row, const TrialColumns& columns) {
  using std::chrono::sys_days;
  if (animal.date_before && animal.date_treated &&
      sys_days(*animal.date_before) > sys_days(*animal.date_treated))
    row.problem(columns.date_before, in_quotes(row.text(columns.date_before)),
                "a day no later than the treatment");
  if (animal.date_after && animal.date_treated &&
      sys_days(*animal.date_after) <= sys_days(*animal.date_treated))
    row.problem(columns.date_after, in_quotes(row.text(columns.date_after)),
                "a day later than the treatment");
  if (animal.date_before && animal.date_after &&
      sys_days(*animal.date_after) <= sys_days(*animal.date_before))
    row.problem(columns.date_after, in_quotes(row.text(columns.date_after)),
                "a day later than the first sample");
}

Animal read_animal(const RowCells& row, const TrialColumns& columns, const ReadOptions& options) {
  Animal animal;
  animal.line = row.line();
  animal.tag = row.needed(columns.animal);
  animal.before = read_count(row, columns.before, options.factor_before);
  animal.after = read_count(row, columns.after, options.factor_after);
  animal.weight_kg = row.number(columns.weight_kg, heaviest_kg, "a weight in kg");
  animal.dose_ml = row.number(columns.dose_ml, largest_dose_ml, "a dose in mL");
  animal.label_ml_per_kg =
      row.number(columns.label_ml_per_kg, largest_dose_ml, "a dose rate in mL per kg");
  animal.date_before = row.date(columns.date_before);
  animal.date_treated = row.date(columns.date_treated);
  animal.date_after = row.date(columns.date_after);
  check_dates(animal, row, columns);
  return animal;
}

/// Every row of a group must say the same of it; an empty cell says nothing.
template <typename T>
void agree(T& of_group, const T& of_row, std::size_t first_line, const Column& column,
           const RowCells& row) {
  if (row.text(column).empty() || of_row == T{} || of_group == of_row)
    return;
  if (of_group == T{})
    of_group = of_row;
  else
    row.problem(column, in_quotes(row.text(column)),
                fmt::format("the same as in the first row of this group (line {})", first_line));
}

/// "w" and "W" are two groups, but hardly meant as two.
void note_lookalikes(const Trial& trial, const std::string& source,
                     std::vector<std::string>& notes) {
  std::map<std::string, std::string> seen;
  for (const Group& group : trial.groups) {
    const auto [at, fresh] = seen.emplace(lower_case(group.name), group.name);
    if (!fresh)
      notes.push_back(fmt::format("{}: taken as two groups: {} and {}", source,
                                  in_quotes(at->second), in_quotes(group.name)));
  }
}

CountColumns count_columns(HeaderCells& header, std::string_view occasion) {
  const Column eggs = header.column(fmt::format("eggs_{}", occasion));
  const Column epg = header.column(fmt::format("epg_{}", occasion));
  if (eggs && epg)
    header.problem(epg, fmt::format("this beside {}", eggs.name), "one of the two");
  else if (!eggs && !epg)
    header.missing(eggs.name, epg.name);
  const bool as_epg = epg && !eggs;
  return {as_epg ? epg : eggs, as_epg, header.column(fmt::format("factor_{}", occasion))};
}

} // namespace

TrialColumns::TrialColumns(HeaderCells& header)
    : trial(header.column("trial")), group(header.needed("group")), animal(header.needed("animal")),
      role(header.column("role")), drench(header.column("drench")),
      drug_class(header.column("class")), host(header.column("host")), worm(header.column("worm")),
      before(count_columns(header, "before")), after(count_columns(header, "after")),
      weight_kg(header.column("weight_kg")), dose_ml(header.column("dose_ml")),
      label_ml_per_kg(header.column("label_ml_per_kg")), date_before(header.column("date_before")),
      date_treated(header.column("date_treated")), date_after(header.column("date_after")) {}

void ControlOption::look_in(const Trial& trial) {
  constexpr std::size_t most_listed = 100;
  for (const Group& group : trial.groups) {
    seen_ = seen_ || group.name == group_;
    if (seen_ || group_.empty())
      return;
    if (others_.size() < most_listed)
      others_.insert(in_quotes(group.name));
    else
      more_ = more_ || !others_.contains(in_quotes(group.name));
  }
}

void ControlOption::check(Problems& problems) const {
  if (seen_ || group_.empty())
    return;
  std::string list;
  for (const std::string& name : others_)
    list += (list.empty() ? "" : ", ") + name;
  if (more_)
    list += " and more";
  problems.add({"--control",
                0,
                0,
                {},
                "the unknown group " + in_quotes(group_),
                "one of the groups " + list});
}

TrialRows::TrialRows(std::string name, const TrialColumns& columns, const ReadOptions& options)
    : columns_(columns), options_(options) {
  trial_.name = std::move(name);
}

std::string_view TrialRows::name_of(const RowCells& row, const TrialColumns& columns,
                                    const ReadOptions& options) {
  const std::string_view cell = row.text(columns.trial);
  return cell.empty() ? std::string_view(options.trial_name) : cell;
}

void TrialRows::add(const RowCells& row) {
  Group described;
  described.name = row.needed(columns_.group);
  Animal animal = read_animal(row, columns_, options_);
  const std::optional<Role> role = role_of(row, columns_.role);
  described.drench = row.text(columns_.drench);
  described.classes = drug_classes(row, columns_.drug_class);
  described.host = canonical_host(row.text(columns_.host));
  described.worm = canonical_worm(row.text(columns_.worm));
  if (described.name.empty() || animal.tag.empty())
    return;

  const std::size_t at = find_group(described);
  Group& group = trial_.groups[at];
  GroupRows& rows = group_rows_[at];
  const std::size_t first_line = group.animals.empty() ? row.line() : group.animals.front().line;
  if (role && !rows.role) {
    rows.role = {*role, row.line()};
    group.role = *role;
  } else if (role && rows.role->first != *role) {
    row.problem(columns_.role, in_quotes(row.text(columns_.role)),
                fmt::format("the same role in every row of this group (line {} says {})",
                            rows.role->second, to_string(group.role)));
  }
  agree(group.drench, described.drench, first_line, columns_.drench, row);
  agree(group.classes, described.classes, first_line, columns_.drug_class, row);
  agree(group.host, described.host, first_line, columns_.host, row);
  agree(group.worm, described.worm, first_line, columns_.worm, row);

  const auto [tag, fresh] = rows.line_of_tag.emplace(animal.tag, row.line());
  if (!fresh)
    row.problem(columns_.animal, fmt::format("{} again", in_quotes(animal.tag)),
                fmt::format("each animal once in group {} (it is on line {} already)",
                            in_quotes(group.name), tag->second));
  else
    group.animals.push_back(std::move(animal));
}

std::size_t TrialRows::find_group(const Group& described) {
  const auto [at, fresh] = group_index_.emplace(described.name, trial_.groups.size());
  if (fresh) {
    trial_.groups.push_back(described);
    group_rows_.emplace_back();
  }
  return at->second;
}

Trial TrialRows::finish(const std::string& source, Problems& problems,
                        std::vector<std::string>& notes) {
  const Group* control = nullptr;
  for (std::size_t i = 0; i < trial_.groups.size(); ++i) {
    Group& group = trial_.groups[i];
    if (group.host.empty())
      group.host = canonical_host(options_.host);
    if (!options_.control.empty() && group.name == options_.control) {
      const auto& said = group_rows_[i].role;
      if (said && said->first == Role::treated)
        problems.add({source, said->second, 0, columns_.role.name,
                      fmt::format("treated, against the option --control {}", group.name),
                      "control, or an empty cell"});
      group.role = Role::control;
    }
    if (group.role != Role::control)
      continue;
    if (control != nullptr)
      problems.add(
          {source, group.animals.empty() ? 0 : group.animals.front().line, 0, columns_.role.name,
           fmt::format("a second control group {} beside {} in trial {}", in_quotes(group.name),
                       in_quotes(control->name), in_quotes(trial_.name)),
           "one control group a trial"});
    control = &group;
  }
  if (control != nullptr && trial_.groups.size() == 1)
    problems.add({source, 0, 0, columns_.role.name,
                  fmt::format("only a control group in trial {}", in_quotes(trial_.name)),
                  "at least one treated group"});
  note_lookalikes(trial_, source, notes);
  return std::move(trial_);
}

} // namespace eggfall
