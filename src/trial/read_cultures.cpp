#include "eggfall/trial/read_cultures.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "formats/table.hpp"
#include "trial/field_words.hpp"
#include "trial/header_cells.hpp"
#include "trial/name_words.hpp"
#include "trial/percent_culture.hpp"
#include "trial/sum_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace eggfall {
namespace {

constexpr std::uint32_t most_larvae = 1'000'000;
constexpr std::size_t most_worms = 50; ///< In one culture; each is compared with each of another.
constexpr std::size_t most_listed = 20;

struct CultureColumns {
  CultureColumns(HeaderCells& header, bool several_trials)
      : trial(several_trials ? header.needed("trial", "counts of one trial alone")
                             : header.column("trial")),
        group(header.needed("group")), time(header.needed("time")), worm(header.needed("worm")),
        larvae(header.column("larvae")), percent(header.column("percent")),
        told_apart(header.column("told_apart")), rounded_to(header.column("rounded_to")) {
    if (!larvae && !percent)
      header.missing("larvae", "a column percent");
    header.refuse_misspelt(told_apart);
    header.refuse_misspelt(rounded_to);
  }

  Column trial;
  Column group;
  Column time;
  Column worm;
  Column larvae; ///< This one or `percent`, or both.
  Column percent;
  Column told_apart;
  Column rounded_to;
};

template <typename Named> std::vector<std::string> names_of(const std::vector<Named>& all) {
  std::vector<std::string> names;
  for (const Named& each : all)
    names.push_back(each.name);
  return names;
}

/// A worm of a culture as the table has it.
struct NamedWorm {
  std::string written; ///< Before canonical_worm().
  std::size_t line = 0;
};

/// Which of a group's cultures a worm is in.
struct CulturePlace {
  const Group* group;
  Culture Group::*time;
};

bool is_before(Culture Group::*time) {
  return time == &Group::culture_before;
}

std::string_view when(Culture Group::*time) {
  return is_before(time) ? "before treatment" : "after treatment";
}

using Worms = std::map<std::string, NamedWorm, std::less<>>; ///< By canonical_worm().

/// A number in a column that is of a whole culture, and may stand in any of its rows.
template <typename Number> struct OfCulture {
  std::optional<Number> number;
  std::size_t line = 0;
};

/// A culture as its rows have it, of one group or of several.
struct CultureSoFar {
  std::vector<Group*> groups;
  Culture Group::*time = nullptr;
  bool of_all = false;  ///< Named as that of all groups, which gives way to a group's own.
  std::string name;     ///< As messages name its groups: group "white", groups "white + red".
  std::size_t line = 0; ///< Its first row.
  Worms worms;
  std::vector<WormLarvae> counted;
  std::vector<WormPercentage> percentages;
  std::vector<std::size_t> percent_lines;
  OfCulture<std::uint32_t> told_apart;
  OfCulture<double> rounded_to;
};

/// Whether two names may be of one worm that is written in two ways. Two worms of the dictionary
/// are two; a name that it lacks may be any name misspelt that is near to it.
bool may_be_misspelt(std::string_view a, std::string_view b) {
  constexpr std::size_t share = 3;    // a third of the longer name
  constexpr std::size_t longest = 40; // the distance takes time as the product of both lengths
  const std::size_t size = std::max(a.size(), b.size());
  return size <= longest && edit_distance(a, b) <= size / share &&
         (!known_worm(a) || !known_worm(b));
}

/// Puts the rows of a larvae table where they belong.
class CultureRows {
public:
  /// All must outlive this.
  CultureRows(const CultureColumns& columns, std::vector<Trial>& trials, const Source& source,
              Problems& problems)
      : columns_(columns), trials_(trials), source_(source), problems_(problems) {
    for (Trial& trial : trials)
      for (Group& group : trial.groups)
        groups_.emplace(std::pair{&trial, group.name}, &group);
  }

  void add(const RowCells& row) {
    CultureSoFar* const culture = find_culture(row);
    const std::string written = row.needed(columns_.worm);
    const std::string worm = canonical_worm(written);
    const bool in_percent = is_in_percent(row);
    const auto larvae = in_percent ? std::nullopt : find_larvae(row);
    const auto percent = in_percent ? find_percent(row) : std::nullopt;
    if (percent)
      told_.push_back(*percent);
    if (culture == nullptr || worm.empty())
      return;
    const auto [first, fresh] = culture->worms.emplace(worm, NamedWorm{written, row.line()});
    if (culture->worms.size() > most_worms)
      throw_too_many(row, *culture);
    if (!fresh)
      tell_again(row, *culture, {written, row.line()}, first->second);
    take(row, columns_.told_apart, *culture, culture->told_apart,
         row.whole_number(columns_.told_apart, 1, most_larvae, "a whole number of larvae"));
    take(row, columns_.rounded_to, *culture, culture->rounded_to,
         row.number(columns_.rounded_to, roundings, "a number of percent"));
    if (fresh && larvae)
      culture->counted.push_back({worm, static_cast<double>(*larvae)});
    if (fresh && percent) {
      culture->percentages.push_back({worm, *percent});
      culture->percent_lines.push_back(row.line());
    }
    if (!culture->counted.empty() && !culture->percentages.empty())
      row.problem(in_percent ? columns_.percent : columns_.larvae,
                  fmt::format("{} in a culture of {}",
                              in_quotes(row.text(in_percent ? columns_.percent : columns_.larvae)),
                              in_percent ? "counted larvae" : "percentages"),
                  fmt::format("larvae, or percentages, of all worms of {} {}", culture->name,
                              when(culture->time)));
  }

  /// To be called when all rows are added and none has a problem: makes cultures of them and gives
  /// them to their groups.
  void finish() {
    const double rounded_to = rounding_of(told_);
    for (const auto& culture : cultures_)
      give(*culture, made_of(*culture, rounded_to));
  }

  /// A worm under two names would be gone after treatment under the one, and new under the other:
  /// its fall would be told as 100%. So names that may be one worm's are a question, if one of them
  /// is in one and the other in the other of two cultures that are compared, whatever the design.
  void refuse_worms_of_two_names() {
    for (const Trial& trial : trials_) {
      const Group* const control = control_of(trial);
      for (const Group& group : trial.groups) {
        const Group& other = control != nullptr ? *control : group;
        const std::array<CulturePlace, 4> places{{{&group, &Group::culture_before},
                                                  {&group, &Group::culture_after},
                                                  {&other, &Group::culture_before},
                                                  {&other, &Group::culture_after}}};
        for (std::size_t i = 0; i < places.size(); ++i)
          for (std::size_t j = 0; j < i; ++j)
            compare_names(places[j], places[i]);
      }
    }
  }

private:
  static constexpr ValueRange roundings{0.001, 10};

  CultureSoFar* find_culture(const RowCells& row) {
    Culture Group::*const time = find_time(row);
    bool of_all = false;
    std::vector<Group*> groups = find_groups(row, of_all);
    if (groups.empty() || time == nullptr)
      return nullptr;
    const bool mixed = groups.size() > 1 || of_all;
    if (mixed && !is_before(time)) {
      row.problem(columns_.time, fmt::format("a culture of several groups {}", when(time)),
                  "before, since mixed after treatment the groups' worms tell of no single drench "
                  "(or the name of one group)");
      return nullptr;
    }
    CultureSoFar*& found = culture_of_[{groups, is_before(time)}];
    if (found == nullptr) {
      found = cultures_.emplace_back(std::make_unique<CultureSoFar>()).get();
      found->groups = std::move(groups);
      found->time = time;
      found->of_all = of_all;
      found->name =
          of_all ? "all groups"
                 : fmt::format("group{} {}", mixed ? "s" : "", in_quotes(row.text(columns_.group)));
      found->line = row.line();
    }
    return found;
  }

  /// The number of a whole culture: one, in whichever of its rows.
  template <typename Number>
  void take(const RowCells& row, const Column& column, const CultureSoFar& culture,
            OfCulture<Number>& known, const std::optional<Number>& number) {
    if (!number)
      return;
    if (known.number && *known.number != *number)
      row.problem(
          column,
          fmt::format("{}, and {} on {}", *number, *known.number, row.name_of_line(known.line)),
          fmt::format("one number for the culture of {} {}", culture.name, when(culture.time)));
    else if (!known.number)
      known = {number, row.line()};
  }

  Culture made_of(const CultureSoFar& so_far, double rounded_to) {
    if (!so_far.percentages.empty())
      return made_of_percentages(so_far, so_far.rounded_to.number.value_or(rounded_to));
    Culture culture;
    culture.worms = so_far.counted;
    const auto& told_apart = so_far.told_apart;
    if (told_apart.number && total_larvae(culture) != *told_apart.number)
      problems_.add(
          {source_, told_apart.line, *columns_.told_apart.index + 1, columns_.told_apart.name,
           fmt::format("{} larvae told apart, and {} in the lines of {} {}", *told_apart.number,
                       total_larvae(culture), so_far.name, when(so_far.time)),
           "as many in both (give larvae that were told apart no further a line of their "
           "own, such as \"other\")"});
    return culture;
  }

  Culture made_of_percentages(const CultureSoFar& so_far, double rounded_to) {
    const auto made = percent_culture(so_far.percentages, so_far.told_apart.number, rounded_to);
    if (const Culture* culture = std::get_if<Culture>(&made))
      return *culture;
    const auto& [worm, found, expected] = std::get<NoCulture>(made);
    problems_.add({source_, worm ? so_far.percent_lines[*worm] : so_far.line,
                   *columns_.percent.index + 1, columns_.percent.name,
                   fmt::format("{} in the culture of {} {}", found, so_far.name, when(so_far.time)),
                   expected});
    return {};
  }

  void give(const CultureSoFar& so_far, Culture culture) {
    if (so_far.groups.size() > 1)
      for (const Group* group : so_far.groups)
        culture.mixed_groups.push_back(group->name);
    for (Group* group : so_far.groups) {
      Culture& own = group->*so_far.time;
      const auto& [other, fresh] = given_.emplace(&own, &so_far);
      if (fresh || other->second->of_all) {
        other->second = &so_far;
        own = culture;
      } else if (!so_far.of_all) {
        const bool later = so_far.line > other->second->line;
        const CultureSoFar& second = later ? so_far : *other->second;
        const CultureSoFar& first = later ? *other->second : so_far;
        problems_.add({source_, second.line, *columns_.group.index + 1, columns_.group.name,
                       fmt::format("a second culture of group {} {}, with {} (the first, of {}, is "
                                   "on {})",
                                   in_quotes(group->name), when(so_far.time), second.name,
                                   first.name, source_.line(first.line)),
                       "one for each group"});
      }
    }
  }

  void throw_too_many(const RowCells& row, const CultureSoFar& culture) {
    problems_.give_up({source_, row.line(), *columns_.worm.index + 1, columns_.worm.name,
                       fmt::format("{} worms in the culture of {} {}", most_worms + 1, culture.name,
                                   when(culture.time)),
                       fmt::format("at most {}", most_worms)});
  }

  void tell_again(const RowCells& row, const CultureSoFar& culture, const NamedWorm& worm,
                  const NamedWorm& first) {
    const bool alike = lower_case(worm.written) == lower_case(first.written);
    row.problem(columns_.worm,
                alike ? fmt::format("{} again", in_quotes(worm.written))
                      : fmt::format("{}, which is {} by another name", in_quotes(worm.written),
                                    in_quotes(first.written)),
                fmt::format("each worm once for {} {} (it is on {} already)", culture.name,
                            when(culture.time), row.name_of_line(first.line)));
  }

  const Worms& worms_in(const CulturePlace& place) const {
    static const Worms none;
    const auto found = given_.find(&(place.group->*place.time));
    return found == given_.end() ? none : found->second->worms;
  }

  void compare_names(const CulturePlace& a, const CulturePlace& b) {
    const Worms& in_a = worms_in(a);
    const Worms& in_b = worms_in(b);
    for (const auto& [worm, named] : in_a)
      for (const auto& [other, other_named] : in_b)
        if (!in_b.contains(worm) && !in_a.contains(other) &&
            (may_be_one_worm(worm, other) || may_be_misspelt(worm, other)))
          tell_two_names({a, named}, {b, other_named});
  }

  using PlacedName = std::pair<CulturePlace, NamedWorm>;

  void tell_two_names(PlacedName first, PlacedName second) {
    if (second.second.line < first.second.line)
      std::swap(first, second);
    const auto& [place, worm] = second;
    const auto& [first_place, first_worm] = first;
    const bool one_group = place.group == first_place.group;
    const auto in_group = [&](const CulturePlace& each) {
      return one_group
                 ? std::string(when(each.time))
                 : fmt::format("{} in group {}", when(each.time), in_quotes(each.group->name));
    };
    if (!told_names_.emplace(first_worm.line, worm.line).second)
      return;
    problems_.add(
        {source_, worm.line, *columns_.worm.index + 1, columns_.worm.name,
         fmt::format("{} {} ({}) and {} {}", in_quotes(first_worm.written), in_group(first_place),
                     source_.line(first_worm.line), in_quotes(worm.written), in_group(place)),
         "one name for one worm (or, if they are two, a line for each in both cultures, "
         "with 0 larvae where it was not seen)"});
  }

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

  /// The group, or those whose faeces were mixed. A group that is named as a mixture would be is
  /// meant first.
  std::vector<Group*> find_groups(const RowCells& row, bool& of_all) {
    Trial* const trial = find_trial(row);
    const std::string name = row.needed(columns_.group);
    if (trial == nullptr || name.empty())
      return {};
    if (Group* const group = group_named(*trial, name))
      return {group};
    const std::string words = lower_case(name);
    of_all = words == "*" || words == "all" || words == "all groups";
    std::vector<Group*> groups;
    if (of_all) {
      for (Group& group : trial->groups)
        groups.push_back(&group);
      return groups;
    }
    for (std::string_view rest = name; !rest.empty();) {
      const auto plus = rest.find('+');
      Group* const group = group_named(*trial, std::string(trimmed(rest.substr(0, plus))));
      if (group == nullptr || std::ranges::find(groups, group) != groups.end()) {
        groups.clear();
        break;
      }
      groups.push_back(group);
      rest = plus == std::string_view::npos ? std::string_view() : rest.substr(plus + 1);
    }
    if (groups.empty())
      row.problem(
          columns_.group, "the unknown group " + in_quotes(name),
          fmt::format("a group of trial {}: {} (or, before treatment, those mixed: \"all\", "
                      "or names with + between)",
                      in_quotes(trial->name), quoted_list(names_of(trial->groups), most_listed)));
    std::ranges::sort(groups); // a mixture is one in whichever order it is named
    return groups;
  }

  Group* group_named(Trial& trial, const std::string& name) const {
    const auto found = groups_.find({&trial, name});
    return found == groups_.end() ? nullptr : found->second;
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

  /// Whether the row tells a percentage; both, or neither, is a problem.
  bool is_in_percent(const RowCells& row) const {
    const bool larvae = !row.text(columns_.larvae).empty();
    const bool percent = !row.text(columns_.percent).empty();
    if (larvae && percent)
      row.problem(columns_.percent,
                  fmt::format("{} beside {} larvae", in_quotes(row.text(columns_.percent)),
                              in_quotes(row.text(columns_.larvae))),
                  "a number of larvae or a percentage, and the other empty");
    return percent || !columns_.larvae;
  }

  std::optional<std::uint32_t> find_larvae(const RowCells& row) const {
    constexpr std::string_view what = "a whole number of larvae";
    const std::string_view cell = row.text(columns_.larvae);
    if (cell.empty())
      row.problem(columns_.larvae, "nothing",
                  fmt::format("{} from 0 to {} (leave out the line of a worm that was not looked "
                              "for)",
                              what, most_larvae));
    if (cell.find_first_of("%<") != std::string_view::npos && parse_percentage(cell)) {
      row.problem(columns_.larvae, in_quotes(cell),
                  fmt::format("{} (a percentage belongs in a column percent)", what));
      return std::nullopt;
    }
    return row.whole_number(columns_.larvae, 0, most_larvae, what);
  }

  std::optional<ToldPercentage> find_percent(const RowCells& row) const {
    const std::string_view cell = row.text(columns_.percent);
    const auto told = parse_percentage(cell);
    if (!told)
      row.problem(columns_.percent, cell.empty() ? "nothing" : in_quotes(cell),
                  cell.empty()
                      ? "a percentage of the larvae (leave out the line of a worm that "
                        "was not looked for)"
                      : "a percentage of the larvae, 0 to 100, such as 62, 62.5 or <1 (for "
                        "a trace, the number that it is below)");
    return told;
  }

  const CultureColumns& columns_;
  std::vector<Trial>& trials_;
  const Source& source_;
  Problems& problems_;
  std::map<std::pair<const Trial*, std::string>, Group*> groups_;
  std::vector<std::unique_ptr<CultureSoFar>> cultures_; ///< In the table's order.
  std::map<std::pair<std::vector<Group*>, bool>, CultureSoFar*> culture_of_; ///< Groups, before.
  std::map<const Culture*, const CultureSoFar*> given_;
  std::vector<ToldPercentage> told_;
  std::set<std::pair<std::size_t, std::size_t>> told_names_; ///< Lines of worms with two names.
};

} // namespace

TrialTable read_cultures(std::string_view bytes, const Source& source, std::vector<Trial> trials) {
  const Table table = read_table(bytes, source, "worm");
  Problems problems;
  HeaderCells header(table.header, table.source, problems);
  const CultureColumns columns(header, trials.size() > 1);
  problems.throw_if_any();

  CultureRows rows(columns, trials, table.source, problems);
  SumRows sums;
  bool any_worm = false;
  for (const TableRow& table_row : table.rows)
    if (const RowCells row = header.cells_of(table_row);
        !sums.takes(row, {columns.group, columns.worm})) {
      rows.add(row);
      any_worm = true;
    }
  if (!any_worm)
    problems.add({table.source, 0, 0, {}, "sums alone", "a row for each worm"});
  problems.throw_if_any();
  rows.finish();
  rows.refuse_worms_of_two_names();
  problems.throw_if_any();

  TrialTable result{std::move(trials), {}};
  if (auto note = sums.note(table.source))
    result.notes.push_back(std::move(*note));
  if (auto note = header.note())
    result.notes.push_back(std::move(*note));
  return result;
}

} // namespace eggfall
