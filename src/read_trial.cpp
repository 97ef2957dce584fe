#include "eggfall/read_trial.hpp"

#include "eggfall/error.hpp"
#include "eggfall/table.hpp"
#include "eggfall/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t most_problems = 20;
constexpr double heaviest_kg = 2'000;
constexpr double largest_dose_ml = 2'000;

enum class Column {
  trial,
  group,
  animal,
  role,
  drench,
  drug_class,
  host,
  worm,
  eggs_before,
  eggs_after,
  epg_before,
  epg_after,
  factor_before,
  factor_after,
  weight_kg,
  dose_ml,
  label_ml_per_kg,
  date_before,
  date_treated,
  date_after,
};

constexpr std::array<std::pair<Column, std::string_view>, 20> column_names{{
    {Column::trial, "trial"},
    {Column::group, "group"},
    {Column::animal, "animal"},
    {Column::role, "role"},
    {Column::drench, "drench"},
    {Column::drug_class, "class"},
    {Column::host, "host"},
    {Column::worm, "worm"},
    {Column::eggs_before, "eggs_before"},
    {Column::eggs_after, "eggs_after"},
    {Column::epg_before, "epg_before"},
    {Column::epg_after, "epg_after"},
    {Column::factor_before, "factor_before"},
    {Column::factor_after, "factor_after"},
    {Column::weight_kg, "weight_kg"},
    {Column::dose_ml, "dose_ml"},
    {Column::label_ml_per_kg, "label_ml_per_kg"},
    {Column::date_before, "date_before"},
    {Column::date_treated, "date_treated"},
    {Column::date_after, "date_after"},
}};

/// Collects problems up to the limit, then gives up on the whole table.
class Problems {
public:
  void add(Problem problem) {
    problems_.push_back(std::move(problem));
    if (problems_.size() == most_problems)
      throw_if_any();
  }
  /// For what is wrong with every row alike: tells it for the first one only.
  void add_once(Problem problem) {
    if (told_.insert(problem.column_name).second)
      add(std::move(problem));
  }
  void throw_if_any() const {
    if (!problems_.empty())
      throw InputError(problems_);
  }

private:
  std::vector<Problem> problems_;
  std::set<std::string> told_;
};

/// "eggs before", "Eggs_Before" and "EGGS-BEFORE" are the same header.
std::string header_key(std::string_view text) {
  std::string key = lower_case(text);
  std::ranges::replace_if(
      key, [](char c) { return c == ' ' || c == '-'; }, '_');
  return key;
}

class Header {
public:
  Header(const TableRow& row, const std::string& source, Problems& problems) {
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const std::string key = header_key(row.cells[i]);
      const auto known =
          std::ranges::find(column_names, key, &std::pair<Column, std::string_view>::second);
      if (known == column_names.end()) {
        ignored_.push_back(key.empty() ? fmt::format("number {}, without a header", i + 1)
                                       : row.cells[i]);
        continue;
      }
      const auto [at, fresh] = index_.emplace(known->first, i);
      if (!fresh)
        problems.add(
            {source, row.line, i + 1, key,
             fmt::format("a second column of this name (the first is column {})", at->second + 1),
             "one"});
    }
    for (const Column needed : {Column::group, Column::animal})
      if (!has(needed))
        missing(needed, row, source, problems);
    const std::array<std::array<Column, 2>, 2> counts{
        {{Column::eggs_before, Column::epg_before}, {Column::eggs_after, Column::epg_after}}};
    for (const auto& [eggs, epg] : counts) {
      if (has(eggs) && has(epg))
        problems.add({source, row.line, index_.at(epg) + 1, std::string(name(epg)),
                      fmt::format("this beside {}", name(eggs)), "one of the two"});
      else if (!has(eggs) && !has(epg))
        missing(eggs, row, source, problems);
    }
  }

  bool has(Column column) const { return index_.contains(column); }
  std::size_t index(Column column) const { return index_.at(column); }
  const std::vector<std::string>& ignored() const { return ignored_; }

  static std::string_view name(Column column) {
    return std::ranges::find(column_names, column, &std::pair<Column, std::string_view>::first)
        ->second;
  }

private:
  void missing(Column column, const TableRow& row, const std::string& source,
               Problems& problems) const {
    constexpr std::size_t near = 3;
    std::string seen;
    for (const std::string& cell : row.cells)
      seen += (seen.empty() ? "" : ", ") + in_quotes(cell);
    if (seen.size() > 200)
      seen = fmt::format("{} other columns", row.cells.size());
    std::string wanted = fmt::format("a column {}", name(column));
    if (column == Column::eggs_before || column == Column::eggs_after)
      wanted += column == Column::eggs_before ? " (or epg_before)" : " (or epg_after)";
    for (const std::string& cell : ignored_)
      if (edit_distance(header_key(cell), name(column)) < near) {
        wanted += fmt::format(" (is {} meant?)", in_quotes(cell));
        break;
      }
    problems.add({source, row.line, 0, {}, "the columns " + seen, wanted});
  }

  std::map<Column, std::size_t> index_;
  std::vector<std::string> ignored_;
};

/// One row's cells by column; the first problem of a cell is recorded, and the
/// value is then missing.
class Row {
public:
  Row(const TableRow& row, const Header& header, const std::string& source, Problems& problems)
      : row_(row), header_(header), source_(source), problems_(problems) {}

  std::size_t line() const { return row_.line; }

  std::string_view text(Column column) const {
    return header_.has(column) ? std::string_view(row_.cells[header_.index(column)])
                               : std::string_view();
  }

  void problem(Column column, std::string found, std::string expected) const {
    const std::size_t at = header_.has(column) ? header_.index(column) + 1 : 0;
    problems_.add({source_, row_.line, at, std::string(Header::name(column)), std::move(found),
                   std::move(expected)});
  }

  std::string needed(Column column) const {
    const std::string_view cell = text(column);
    if (cell.empty())
      problem(column, "nothing", "a name");
    return std::string(cell);
  }

  std::optional<double> number(Column column, double largest, std::string_view what) const {
    const std::string_view cell = text(column);
    if (cell.empty())
      return std::nullopt;
    const auto value = parse_number(cell);
    if (value && *value > 0 && *value <= largest)
      return value;
    problem(column, in_quotes(cell), fmt::format("{} above 0 and at most {}", what, largest));
    return std::nullopt;
  }

  std::optional<std::chrono::year_month_day> date(Column column) const {
    const std::string_view cell = text(column);
    if (cell.empty())
      return std::nullopt;
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    const auto digits = [&](std::size_t from, std::size_t size, auto& value) {
      const char* const first = cell.data() + from;
      const auto [end, error] = std::from_chars(first, first + size, value);
      return error == std::errc{} && end == first + size;
    };
    constexpr std::string_view pattern = "YYYY-MM-DD";
    if (cell.size() == pattern.size() && cell[4] == '-' && cell[7] == '-' && digits(0, 4, year) &&
        digits(5, 2, month) && digits(8, 2, day)) {
      const std::chrono::year_month_day value{std::chrono::year(year), std::chrono::month(month),
                                              std::chrono::day(day)};
      if (value.ok() && year >= 1900)
        return value;
    }
    problem(column, in_quotes(cell), "a date written YYYY-MM-DD, such as 2031-04-27");
    return std::nullopt;
  }

  /// The factor of this row: its own column, or else the option.
  std::optional<MultiplicationFactor>
  factor(Column column, const std::optional<MultiplicationFactor>& option) const {
    if (text(column).empty())
      return option;
    const auto value = number(column, MultiplicationFactor::largest, "a multiplication factor");
    return value ? std::optional(MultiplicationFactor(*value)) : std::nullopt;
  }

  std::optional<Count> count(Column eggs, Column epg, Column factor_column,
                             const std::optional<MultiplicationFactor>& option) const {
    const bool as_epg = header_.has(epg);
    const Column column = as_epg ? epg : eggs;
    const std::string_view cell = text(column);
    const auto row_factor = factor(factor_column, option);
    if (cell.empty())
      return std::nullopt;
    const auto value = as_epg ? parse_epg(cell) : parse_eggs(cell);
    if (!value) {
      problem(column, in_quotes(cell),
              as_epg ? "eggs per gram, 0 or more (leave it empty if not sampled)"
                     : "a whole number of eggs seen, 0 or more (leave it empty if not sampled)");
      return std::nullopt;
    }
    if (!row_factor) {
      // A bad factor cell has been told already.
      if (text(factor_column).empty())
        problems_.add_once({source_, row_.line, header_.index(column) + 1,
                            std::string(Header::name(column)),
                            "a count without a multiplication factor",
                            fmt::format("a column {}, or the option --factor ('eggfall factor' "
                                        "works it out from the bench figures)",
                                        Header::name(factor_column))});
      return std::nullopt;
    }
    if (as_epg)
      return from_epg(column, *value, *row_factor);
    if (*value > EggsSeen::largest) {
      problem(column, in_quotes(cell), fmt::format("at most {} eggs seen", EggsSeen::largest));
      return std::nullopt;
    }
    return Count{EggsSeen(static_cast<std::uint32_t>(*value)), *row_factor};
  }

private:
  static std::optional<double> parse_eggs(std::string_view cell) {
    const auto value = parse_whole_number(cell);
    return value ? std::optional(static_cast<double>(*value)) : std::nullopt;
  }

  /// "1.250" may be a thousand and more, as "1,250" may.
  static std::optional<double> parse_epg(std::string_view cell) {
    const auto point = cell.find('.');
    const bool thousands =
        point != std::string_view::npos && cell.size() == point + 4 && cell[0] != '0';
    const auto value = thousands ? std::nullopt : parse_number(cell);
    return value && *value >= 0 ? value : std::nullopt;
  }

  std::optional<Count> from_epg(Column column, double epg, MultiplicationFactor factor) const {
    if (const auto eggs = eggs_behind(Epg(epg), factor))
      return Count{*eggs, factor};
    const double below = std::floor(epg / factor.value());
    if (below >= EggsSeen::largest)
      problem(column, fmt::format("{} EPG", epg),
              fmt::format("at most {} eggs seen", EggsSeen::largest));
    else
      problem(
          column, fmt::format("{} EPG", epg),
          fmt::format("a whole multiple of the factor {}, such as {} or {} (is the factor right? "
                      "an average of several counts is no count)",
                      factor.value(), below * factor.value(), (below + 1) * factor.value()));
    return std::nullopt;
  }

  const TableRow& row_;
  const Header& header_;
  const std::string& source_;
  Problems& problems_;
};

std::vector<DrugClass> drug_classes(const Row& row) {
  std::vector<DrugClass> classes;
  std::string_view rest = row.text(Column::drug_class);
  while (!rest.empty()) {
    const auto plus = rest.find('+');
    const std::string_view word = trimmed(rest.substr(0, plus));
    rest = plus == std::string_view::npos ? std::string_view{} : rest.substr(plus + 1);
    const auto parsed = parse_drug_class(word);
    if (!parsed) {
      row.problem(Column::drug_class, in_quotes(row.text(Column::drug_class)),
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
std::optional<Role> role_of(const Row& row) {
  const std::string cell = lower_case(row.text(Column::role));
  if (cell == "treated")
    return Role::treated;
  if (cell == "control")
    return Role::control;
  if (!cell.empty())
    row.problem(Column::role, in_quotes(row.text(Column::role)), "treated or control");
  return std::nullopt;
}

Animal read_animal(const Row& row, const ReadOptions& options) {
  Animal animal;
  animal.line = row.line();
  animal.tag = row.needed(Column::animal);
  animal.before = row.count(Column::eggs_before, Column::epg_before, Column::factor_before,
                            options.factor_before);
  animal.after =
      row.count(Column::eggs_after, Column::epg_after, Column::factor_after, options.factor_after);
  animal.weight_kg = row.number(Column::weight_kg, heaviest_kg, "a weight in kg");
  animal.dose_ml = row.number(Column::dose_ml, largest_dose_ml, "a dose in mL");
  animal.label_ml_per_kg =
      row.number(Column::label_ml_per_kg, largest_dose_ml, "a dose rate in mL per kg");
  animal.date_before = row.date(Column::date_before);
  animal.date_treated = row.date(Column::date_treated);
  animal.date_after = row.date(Column::date_after);
  using std::chrono::sys_days;
  if (animal.date_before && animal.date_treated &&
      sys_days(*animal.date_before) > sys_days(*animal.date_treated))
    row.problem(Column::date_before, in_quotes(row.text(Column::date_before)),
                "a day no later than the treatment");
  if (animal.date_after && animal.date_treated &&
      sys_days(*animal.date_after) <= sys_days(*animal.date_treated))
    row.problem(Column::date_after, in_quotes(row.text(Column::date_after)),
                "a day later than the treatment");
  if (animal.date_before && animal.date_after &&
      sys_days(*animal.date_after) <= sys_days(*animal.date_before))
    row.problem(Column::date_after, in_quotes(row.text(Column::date_after)),
                "a day later than the first sample");
  return animal;
}

/// Every row of a group must say the same of it; an empty cell says nothing.
template <typename T>
void agree(T& of_group, const T& of_row, std::size_t first_line, Column column, const Row& row) {
  if (of_row.empty() || of_group == of_row)
    return;
  if (of_group.empty())
    of_group = of_row;
  else
    row.problem(column, in_quotes(row.text(column)),
                fmt::format("the same as in the first row of this group (line {})", first_line));
}

class TrialBuilder {
public:
  TrialBuilder(const ReadOptions& options) : options_(options) {}

  void add(const Row& row) {
    std::string trial_name(row.text(Column::trial));
    if (trial_name.empty())
      trial_name = options_.trial_name;
    const std::string group_name = row.needed(Column::group);
    Animal animal = read_animal(row, options_);

    Group described;
    described.name = group_name;
    const std::optional<Role> role = role_of(row);
    described.drench = row.text(Column::drench);
    described.classes = drug_classes(row);
    described.host = canonical_host(row.text(Column::host));
    described.worm = canonical_worm(row.text(Column::worm));
    if (group_name.empty() || animal.tag.empty())
      return;

    Group& group = find_group(find_trial(trial_name), described);
    const std::size_t first_line = group.animals.empty() ? row.line() : group.animals.front().line;
    const auto [said, new_role] =
        role ? roles_.emplace(std::array{trial_name, group_name}, std::pair{*role, row.line()})
             : std::pair{roles_.end(), false};
    if (new_role)
      group.role = *role;
    else if (role && said->second.first != *role)
      row.problem(Column::role, in_quotes(row.text(Column::role)),
                  fmt::format("the same role in every row of this group (line {} says {})",
                              said->second.second, to_string(group.role)));
    agree(group.drench, described.drench, first_line, Column::drench, row);
    agree(group.classes, described.classes, first_line, Column::drug_class, row);
    agree(group.host, described.host, first_line, Column::host, row);
    agree(group.worm, described.worm, first_line, Column::worm, row);

    const auto [at, fresh] =
        tags_.emplace(std::array{trial_name, group_name, animal.tag}, row.line());
    if (!fresh)
      row.problem(Column::animal, fmt::format("{} again", in_quotes(animal.tag)),
                  fmt::format("each animal once in group {} (it is on line {} already)",
                              in_quotes(group_name), at->second));
    else
      group.animals.push_back(std::move(animal));
  }

  std::vector<Trial> finish(const std::string& source, Problems& problems) {
    bool control_seen = options_.control.empty();
    for (Trial& trial : trials_) {
      const Group* control = nullptr;
      for (Group& group : trial.groups) {
        if (group.host.empty())
          group.host = canonical_host(options_.host);
        if (!options_.control.empty() && group.name == options_.control) {
          control_seen = true;
          const auto said = roles_.find({trial.name, group.name});
          if (said != roles_.end() && said->second.first == Role::treated)
            problems.add({source, said->second.second, 0, std::string(Header::name(Column::role)),
                          fmt::format("treated, against the option --control {}", group.name),
                          "control, or an empty cell"});
          group.role = Role::control;
        }
        if (group.role != Role::control)
          continue;
        if (control != nullptr)
          problems.add(
              {source, group.animals.empty() ? 0 : group.animals.front().line, 0,
               std::string(Header::name(Column::role)),
               fmt::format("a second control group {} beside {} in trial {}", in_quotes(group.name),
                           in_quotes(control->name), in_quotes(trial.name)),
               "one control group a trial"});
        control = &group;
      }
      if (control != nullptr && trial.groups.size() == 1)
        problems.add({source, 0, 0, std::string(Header::name(Column::role)),
                      fmt::format("only a control group in trial {}", in_quotes(trial.name)),
                      "at least one treated group"});
    }
    if (!control_seen) {
      std::set<std::string> names;
      for (const Trial& trial : trials_)
        for (const Group& group : trial.groups)
          names.insert(in_quotes(group.name));
      std::string list;
      for (const std::string& name : names)
        list += (list.empty() ? "" : ", ") + name;
      problems.add({"--control",
                    0,
                    0,
                    {},
                    "the unknown group " + in_quotes(options_.control),
                    "one of the groups " + list});
    }
    problems.throw_if_any();
    return std::move(trials_);
  }

private:
  Trial& find_trial(const std::string& name) {
    const auto [at, fresh] = trial_index_.emplace(name, trials_.size());
    if (fresh)
      trials_.push_back(Trial{name, {}});
    return trials_[at->second];
  }

  static Group& find_group(Trial& trial, const Group& described) {
    const auto found = std::ranges::find(trial.groups, described.name, &Group::name);
    return found != trial.groups.end() ? *found : trial.groups.emplace_back(described);
  }

  const ReadOptions& options_;
  std::vector<Trial> trials_;
  std::map<std::string, std::size_t> trial_index_;
  std::map<std::array<std::string, 3>, std::size_t> tags_;
  /// The role a group's rows give it, and the first line that does.
  std::map<std::array<std::string, 2>, std::pair<Role, std::size_t>> roles_;
};

/// "w" and "W" are two groups, but hardly meant as two.
void note_lookalikes(const std::vector<Trial>& trials, const std::string& source,
                     std::vector<std::string>& notes) {
  for (const Trial& trial : trials) {
    std::map<std::string, std::string> seen;
    for (const Group& group : trial.groups) {
      const auto [at, fresh] = seen.emplace(lower_case(group.name), group.name);
      if (!fresh)
        notes.push_back(fmt::format("{}: taken as two groups: {} and {}", source,
                                    in_quotes(at->second), in_quotes(group.name)));
    }
  }
}

} // namespace

TrialTable read_trials(std::string_view text, const std::string& source,
                       const ReadOptions& options) {
  const Table table = read_table(text, source);
  Problems problems;
  const Header header(table.header, source, problems);
  problems.throw_if_any();

  TrialBuilder builder(options);
  for (const TableRow& row : table.rows)
    builder.add(Row(row, header, source, problems));

  TrialTable result;
  result.trials = builder.finish(source, problems);
  note_lookalikes(result.trials, source, result.notes);
  if (!header.ignored().empty()) {
    std::string list;
    for (const std::string& name : header.ignored())
      list += (list.empty() ? "" : ", ") + in_quotes(name);
    result.notes.push_back(fmt::format("{}: not used: column{} {}", source,
                                       header.ignored().size() > 1 ? "s" : "", list));
  }
  return result;
}

} // namespace eggfall
