#include "trial/trial_builder.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "trial/drug_words.hpp"
#include "trial/field_words.hpp"
#include "trial/lookalikes.hpp"
#include "trial/missing_factor.hpp"
#include "trial/name_words.hpp"
#include "trial/possible_values.hpp"
#include "trial/repeat_counts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <set>
#include <string_view>

namespace eggfall {
namespace {

constexpr std::uint32_t largest_pool = 1'000;
constexpr double like_label = 0.01; ///< By how much two label rates may differ.

struct FactorCell {
  std::optional<MultiplicationFactor> factor;
  bool bad = false; ///< There was one, but it was a problem, and told.
};

FactorCell read_factor(const RowCells& row, const Column& column, const FactorCell& otherwise) {
  if (row.text(column).empty())
    return otherwise;
  const auto value =
      row.number(column, {MultiplicationFactor::smallest, MultiplicationFactor::largest},
                 "a multiplication factor");
  if (!value)
    return {{}, true};
  return {MultiplicationFactor(*value)};
}

std::optional<double> parse_eggs(std::string_view cell) {
  const auto value = parse_whole_number(cell);
  return value ? std::optional(static_cast<double>(*value)) : std::nullopt;
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

/// What all counts of one occasion in a row have in common.
struct OccasionOfRow {
  const OccasionColumns& columns;
  FactorCell factor;
  std::uint32_t animals;
};

std::optional<Count> read_count(const RowCells& row, const CountColumn& columns,
                                const OccasionOfRow& occasion) {
  const Column& column = columns.count;
  const std::string_view cell = row.text(column);
  const FactorCell factor = read_factor(row, columns.factor, occasion.factor);
  if (cell.empty())
    return std::nullopt;
  const auto value = columns.as_epg ? parse_epg(cell) : parse_eggs(cell);
  if (!value) {
    row.problem(column, in_quotes(cell),
                columns.as_epg
                    ? "eggs per gram, 0 or more, with no mark for thousands (leave it empty if not "
                      "sampled)"
                    : "a whole number of eggs seen, 0 or more (leave it empty if not sampled)");
    return std::nullopt;
  }
  if (!factor.factor) {
    if (!factor.bad)
      row.problem_once(occasion.columns.factor.name, column, std::string(count_without_factor),
                       expected_factor(occasion.columns.factor.name, ""));
    return std::nullopt;
  }
  std::optional<Count> count;
  if (columns.as_epg)
    count = from_epg(row, column, *value, *factor.factor);
  else if (*value <= EggsSeen::largest)
    count = Count{EggsSeen(static_cast<std::uint32_t>(*value)), *factor.factor};
  else
    row.problem(column, in_quotes(cell), fmt::format("at most {} eggs seen", EggsSeen::largest));
  if (count)
    count->animals = occasion.animals;
  return count;
}

/// The sum of an occasion's counts, which go to `repeats` if there is more than one.
std::optional<Count> read_counts(const RowCells& row, const OccasionOfRow& occasion,
                                 std::vector<Count>& repeats) {
  const std::vector<CountColumn>& columns = occasion.columns.counts;
  if (columns.size() == 1)
    return read_count(row, columns.front(), occasion);
  std::vector<Count> counts;
  std::uint64_t eggs = 0;
  for (const CountColumn& each : columns)
    if (const auto count = read_count(row, each, occasion)) {
      counts.push_back(*count);
      eggs += count->eggs.value();
    }
  if (counts.empty())
    return std::nullopt;
  if (eggs > EggsSeen::largest) {
    row.problem(columns.front().count, fmt::format("{} eggs in {} counts", eggs, counts.size()),
                fmt::format("at most {} eggs seen", EggsSeen::largest));
    return std::nullopt;
  }
  for (const Count& count : counts)
    if (count.factor.value() < MultiplicationFactor::smallest * most_repeats) {
      row.problem(columns.front().count,
                  fmt::format("a multiplication factor of {}", count.factor.value()),
                  fmt::format("at least {} for counts that are summed",
                              MultiplicationFactor::smallest * most_repeats));
      return std::nullopt;
    }
  const std::optional<Count> sum = combined(counts);
  if (counts.size() > 1)
    repeats = std::move(counts);
  return sum;
}

std::vector<DrugClass> drug_classes(const RowCells& row, const Column& column) {
  const std::string_view cell = row.text(column);
  if (cell.empty())
    return {};
  if (auto classes = parse_drug_classes(cell))
    return std::move(*classes);
  row.problem(column, in_quotes(cell), expected_drug_classes(cell));
  return {};
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

/// Days from treatment to the sample after it, by their dates; nothing unless both are told.
std::optional<int> days_by_dates(const Animal& animal) {
  if (!animal.date_treated || !animal.date_after)
    return std::nullopt;
  return static_cast<int>(
      (std::chrono::sys_days(*animal.date_after) - std::chrono::sys_days(*animal.date_treated))
          .count());
}

/// Days beside dates are those between the dates.
std::optional<int> read_days_after(const RowCells& row, const TrialColumns& columns,
                                   const Animal& animal) {
  const auto days =
      row.whole_number(columns.days_after, 1, latest_visit_day,
                       "a whole number of days from treatment to the count after it (an empty "
                       "cell, if it is not known)");
  if (!days)
    return std::nullopt;
  const auto told = static_cast<int>(*days);
  if (const auto by_dates = days_by_dates(animal); by_dates && *by_dates != told)
    row.problem(columns.days_after, fmt::format("{} days", told),
                fmt::format("{}, the days between date_treated and date_after, or an empty cell",
                            *by_dates));
  return told;
}

/// The label's rate in mL per kg: its own column, or else from mg.
std::optional<double> read_label_rate(const RowCells& row, const TrialColumns& columns,
                                      const std::optional<double>& mg_per_ml) {
  const auto ml_per_kg =
      row.number(columns.label_ml_per_kg, rates_ml_per_kg, "a dose rate in mL per kg");
  const auto mg_per_kg =
      row.number(columns.label_mg_per_kg, milligrams, "a dose rate in mg per kg");
  if (mg_per_kg && row.text(columns.mg_per_ml).empty())
    row.problem(columns.label_mg_per_kg, in_quotes(row.text(columns.label_mg_per_kg)),
                "the strength of the drench beside it, in a column mg_per_ml");
  if (!mg_per_kg || !mg_per_ml)
    return ml_per_kg;
  const double rate = *mg_per_kg / *mg_per_ml;
  if (ml_per_kg && std::abs(*ml_per_kg - rate) > like_label * rate)
    row.problem(columns.label_ml_per_kg, in_quotes(row.text(columns.label_ml_per_kg)),
                fmt::format("{:.4g}, which is label_mg_per_kg {} divided by mg_per_ml {} (within "
                            "1%), or one of the two rates alone",
                            rate, *mg_per_kg, *mg_per_ml));
  return ml_per_kg ? ml_per_kg : rate;
}

void read_kinds(Animal& animal, const RowCells& row, const TrialColumns& columns,
                const OccasionOfRow& before, const OccasionOfRow& after) {
  for (const KindColumns& kind : columns.kinds) {
    const Samples samples{read_count(row, kind.before, before), read_count(row, kind.after, after)};
    if (samples.before || samples.after)
      animal.kinds.emplace(kind.worm, samples);
  }
}

/// The visits that an animal was sampled on. What one egg stands for is said of a visit, or else of
/// the samples after treatment.
void read_visits(Animal& animal, const RowCells& row, const TrialColumns& columns,
                 const OccasionOfRow& after) {
  for (const VisitColumns& visit : columns.visits) {
    const OccasionOfRow occasion{
        visit.columns, read_factor(row, visit.columns.factor, after.factor), after.animals};
    std::vector<Count> repeats;
    if (const auto count = read_counts(row, occasion, repeats))
      animal.visits.push_back({visit.day, *count, std::move(repeats)});
  }
}

/// A test's own sample, by its date on a day that a visit has too, would count one day twice.
void check_visits(const Animal& animal, const RowCells& row, const TrialColumns& columns) {
  const auto by_dates = days_by_dates(animal);
  if (!animal.after || !by_dates)
    return;
  const int days = *by_dates;
  for (std::size_t i = 0; i < columns.visits.size(); ++i)
    if (columns.visits[i].day == days && !columns.visits[i].columns.counts.empty() &&
        std::ranges::find(animal.visits, columns.visits[i].day, &Visit::day) != animal.visits.end())
      row.problem(columns.visits[i].columns.counts.front().count,
                  fmt::format("a count on day {}, beside {} of the same day by date_after", days,
                              columns.after.counts.front().count.name),
                  "one of the two");
}

void check_pool(std::uint32_t animals, const RowCells& row, const TrialColumns& columns) {
  if (animals == 1)
    return;
  for (const auto& [column, what] :
       {std::pair{&columns.weight_kg, "weight"}, std::pair{&columns.dose_ml, "dose"}})
    if (!row.text(*column).empty())
      row.problem(*column,
                  fmt::format("{} for a pool of {} animals", in_quotes(row.text(*column)), animals),
                  fmt::format("an empty cell (a {} is that of one animal)", what));
}

Animal read_animal(const RowCells& row, const TrialColumns& columns, const ReadOptions& options) {
  Animal animal;
  animal.line = row.line();
  animal.tag = row.needed(columns.animal);
  const std::uint32_t animals =
      row.whole_number(columns.animals_in_pool, 1, largest_pool, "a whole number of animals")
          .value_or(1);
  const FactorCell of_both = read_factor(row, columns.factor, {});
  const auto otherwise = [&](const std::optional<MultiplicationFactor>& option) {
    return of_both.factor || of_both.bad ? of_both : FactorCell{option};
  };
  const OccasionOfRow before{
      columns.before, read_factor(row, columns.before.factor, otherwise(options.factor_before)),
      animals};
  animal.before = read_counts(row, before, animal.repeats_before);
  const OccasionOfRow after{columns.after,
                            read_factor(row, columns.after.factor, otherwise(options.factor_after)),
                            animals};
  animal.after = read_counts(row, after, animal.repeats_after);
  read_kinds(animal, row, columns, before, after);
  read_visits(animal, row, columns, after);
  animal.weight_kg = row.number(columns.weight_kg, weights_kg, "a weight in kg");
  animal.dose_ml = row.number(columns.dose_ml, doses_ml, "a dose in mL");
  check_pool(animals, row, columns);
  animal.mg_per_ml = row.number(columns.mg_per_ml, milligrams, "a strength in mg per mL");
  animal.label_ml_per_kg = read_label_rate(row, columns, animal.mg_per_ml);
  animal.date_before = row.date(columns.date_before);
  animal.date_treated = row.date(columns.date_treated);
  animal.date_after = row.date(columns.date_after);
  animal.days_after = read_days_after(row, columns, animal);
  check_dates(animal, row, columns);
  check_visits(animal, row, columns);
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
                fmt::format("the same as in the first row of this group ({})",
                            row.name_of_line(first_line)));
}

std::optional<int> year_of_first_treatment(const Group& group) {
  std::optional<std::chrono::year_month_day> first;
  for (const Animal& animal : group.animals)
    if (animal.date_treated && (!first || *animal.date_treated < *first))
      first = animal.date_treated;
  return first ? std::optional(static_cast<int>(first->year())) : std::nullopt;
}

void note_lookalikes(const Trial& trial, const Source& source, std::vector<std::string>& notes) {
  Lookalikes groups;
  for (const Group& group : trial.groups)
    groups.add(group.name);
  groups.tell("groups", source, notes);
  for (const Group& group : trial.groups) {
    Lookalikes tags;
    for (const Animal& animal : group.animals)
      tags.add(animal.tag);
    tags.tell(fmt::format("animals of group {}", in_quotes(group.name)), source, notes);
  }
}

/// Worms that are not known, but near to a known one: no cut-off would be found for them.
void note_unknown_worms(const Trial& trial, const Source& source, std::vector<std::string>& notes) {
  std::set<std::string> told;
  for (const Group& group : trial.groups) {
    if (group.worm.empty() || known_worm(group.worm))
      continue;
    const std::vector<std::string_view> nearest = nearest_worms(group.worm);
    if (!nearest.empty() && told.insert(group.worm).second)
      notes.push_back(fmt::format("{}: the worm {} is not known{}", source.shown(),
                                  in_quotes(group.worm), is_meant(nearest)));
  }
}

/// A class that is not that of the substance named: one of the two is a slip of the pen.
void note_class_beside_substance(const Group& group, const Source& source,
                                 std::vector<std::string>& notes) {
  const auto substance = substance_telling_class(group.drench + " " + group.name);
  if (group.role != Role::treated || !substance || group.classes.empty() ||
      std::ranges::find(group.classes, *substance->drug_class) != group.classes.end())
    return;
  std::string note =
      fmt::format("{}: class {} is given for {}, which is {} (from memory): check which is right",
                  source.shown(), to_string(group.classes), in_quotes(substance->name),
                  to_string(*substance->drug_class));
  if (std::ranges::find(notes, note) == notes.end())
    notes.push_back(std::move(note));
}

/// A class left out where the drench's name tells it. Cut-offs and days hang on the class, so that
/// without it a dead drench could pass; the name leaves no doubt.
void take_class_from_name(Group& group, Trial& trial, const Source& source,
                          std::vector<std::string>& notes) {
  if (group.role != Role::treated || !group.classes.empty())
    return;
  const auto substance = substance_telling_class(group.drench + " " + group.name);
  if (!substance)
    return;
  group.classes = {*substance->drug_class};
  const std::string taken = fmt::format("class {} taken from the drench's name {}",
                                        to_string(group.classes), in_quotes(substance->name));
  trial.reading.push_back(fmt::format("Group {}: {}.", in_quotes(group.name), taken));
  // Told once a substance: a survey's groups are many.
  std::string note = fmt::format("{}: {}, where none is given", source.shown(), taken);
  if (std::ranges::find(notes, note) == notes.end())
    notes.push_back(std::move(note));
}

} // namespace

TrialBuilder::TrialBuilder(std::string name, const TrialColumns& columns,
                           const ReadOptions& options)
    : columns_(columns), options_(options) {
  trial_.name = std::move(name);
}

std::string_view TrialBuilder::name_of(const RowCells& row, const TrialColumns& columns,
                                       const ReadOptions& options) {
  for (const Column* column : {&columns.trial, &columns.farm})
    if (const std::string_view cell = row.text(*column); !cell.empty())
      return cell;
  return options.trial_name;
}

void TrialBuilder::add(const RowCells& row) {
  Group described;
  described.name = row.needed(columns_.group);
  Animal animal = read_animal(row, columns_, options_);
  const std::optional<Role> role = role_of(row, columns_.role);
  described.drench = row.text(columns_.drench);
  described.classes = drug_classes(row, columns_.drug_class);
  described.host = canonical_host(row.text(columns_.host));
  if (auto expected = expected_host(described.host))
    row.problem_once("host " + described.host, columns_.host, in_quotes(row.text(columns_.host)),
                     *std::move(expected));
  described.worm = canonical_worm(row.text(columns_.worm));
  described.region = row.text(columns_.region);
  if (const auto year = row.whole_number(columns_.year, first_year, last_year, "a year"))
    described.year = static_cast<int>(*year);
  for (const KindColumns& kind : columns_.kinds)
    if (kind.worm == described.worm)
      row.problem_once(kind.before.count.name, kind.before.count,
                       "the worm of the main counts again",
                       "another one, whose eggs are not in them");
  if (described.name.empty() || animal.tag.empty())
    return;

  const std::size_t position = find_group(described);
  Group& group = trial_.groups[position];
  GroupRows& rows = group_rows_[position];
  const std::size_t first_line = group.animals.empty() ? row.line() : group.animals.front().line;
  if (role && !rows.role) {
    rows.role = {*role, row.line()};
    group.role = *role;
  } else if (role && rows.role->first != *role) {
    row.problem(columns_.role, in_quotes(row.text(columns_.role)),
                fmt::format("the same role in every row of this group ({} says {})",
                            row.name_of_line(rows.role->second), to_string(group.role)));
  }
  agree(group.drench, described.drench, first_line, columns_.drench, row);
  agree(group.classes, described.classes, first_line, columns_.drug_class, row);
  agree(group.host, described.host, first_line, columns_.host, row);
  agree(group.worm, described.worm, first_line, columns_.worm, row);
  agree_on_farm(std::string(row.text(columns_.farm)), row);
  agree(group.region, described.region, first_line, columns_.region, row);
  agree(group.year, described.year, first_line, columns_.year, row);

  const auto [tag, fresh] = rows.line_of_tag.emplace(animal.tag, row.line());
  if (!fresh)
    row.problem(columns_.animal, fmt::format("{} again", in_quotes(animal.tag)),
                fmt::format("each animal once in group {} (it is on {} already)",
                            in_quotes(group.name), row.name_of_line(tag->second)));
  else
    group.animals.push_back(std::move(animal));
}

void TrialBuilder::agree_on_farm(const std::string& farm, const RowCells& row) {
  if (farm.empty())
    return;
  if (farm_.empty()) {
    farm_ = farm;
    line_of_farm_ = row.line();
  } else if (farm != farm_) {
    row.problem(columns_.farm, in_quotes(farm),
                fmt::format("one farm a trial ({} says {}), or a name in a column trial for each",
                            row.name_of_line(line_of_farm_), in_quotes(farm_)));
  }
}

std::size_t TrialBuilder::find_group(const Group& described) {
  const auto [found, fresh] = group_index_.emplace(described.name, trial_.groups.size());
  if (fresh) {
    trial_.groups.push_back(described);
    group_rows_.emplace_back();
  }
  return found->second;
}

Trial TrialBuilder::finish(const Source& source, Problems& problems,
                           std::vector<std::string>& notes) {
  const Group* control = nullptr;
  for (std::size_t i = 0; i < trial_.groups.size(); ++i) {
    Group& group = trial_.groups[i];
    group.farm = farm_;
    if (group.host.empty())
      group.host = canonical_host(options_.host);
    if (!group.year)
      group.year = year_of_first_treatment(group);
    if (!options_.control.empty() && group.name == options_.control) {
      const auto& said = group_rows_[i].role;
      if (said && said->first == Role::treated)
        problems.add(
            {source, said->second, 0, columns_.role.name,
             fmt::format("treated, though {} is said to be the control", in_quotes(group.name)),
             "control, or an empty cell"});
      group.role = Role::control;
    } else if (options_.needed == NeededCounts::before_and_after && !group_rows_[i].role &&
               sounds_untreated(group.name)) {
      problems.add(
          {source, group.animals.empty() ? 0 : group.animals.front().line, 0, columns_.role.name,
           fmt::format("no role for group {}, whose name says untreated", in_quotes(group.name)),
           "control in its column role, or " + Mention{Setting::control, group.name} +
               "; treated, if it was"});
    }
    if (group.role != Role::control) {
      note_class_beside_substance(group, source, notes);
      take_class_from_name(group, trial_, source, notes);
      continue;
    }
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
  note_unknown_worms(trial_, source, notes);
  return std::move(trial_);
}

} // namespace eggfall
