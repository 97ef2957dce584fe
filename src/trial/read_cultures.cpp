#include "eggfall/trial/read_cultures.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "formats/table.hpp"
#include "trial/field_words.hpp"
#include "trial/header_cells.hpp"
#include "trial/name_words.hpp"
#include "trial/sum_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>

namespace eggfall {
namespace {

constexpr std::uint32_t most_larvae = 1'000'000;
constexpr std::size_t most_worms = 50; ///< In one culture; each is compared with each of another.

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

/// A worm of a culture as the table has it.
struct NamedWorm {
  std::string written; ///< Before canonical_worm().
  std::size_t line = 0;
};

/// Which of a group's cultures a worm is in.
struct CulturePlace {
  const Group* group;
  Culture Group::*time;

  std::string_view when() const {
    return time == &Group::culture_before ? "before treatment" : "after treatment";
  }
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
    Group* const group = find_group(row);
    Culture Group::*const time = find_time(row);
    const std::string written = row.needed(columns_.worm);
    const std::string worm = canonical_worm(written);
    const std::optional<std::uint32_t> larvae = find_larvae(row);
    if (group == nullptr || time == nullptr || worm.empty())
      return;
    Culture& culture = group->*time;
    Worms& worms = worms_[&culture];
    const auto [first, fresh] = worms.emplace(worm, NamedWorm{written, row.line()});
    if (worms.size() > most_worms)
      throw_too_many(row, {group, time});
    if (!fresh)
      tell_again(row, {group, time}, {written, row.line()}, first->second);
    else if (larvae)
      culture.push_back({worm, *larvae});
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
  using Worms = std::map<std::string, NamedWorm, std::less<>>; ///< By canonical_worm().

  void throw_too_many(const RowCells& row, const CulturePlace& place) {
    problems_.give_up({source_, row.line(), *columns_.worm.index + 1, columns_.worm.name,
                       fmt::format("{} worms in the culture of group {} {}", most_worms + 1,
                                   in_quotes(place.group->name), place.when()),
                       fmt::format("at most {}", most_worms)});
  }

  void tell_again(const RowCells& row, const CulturePlace& place, const NamedWorm& worm,
                  const NamedWorm& first) {
    const bool alike = lower_case(worm.written) == lower_case(first.written);
    row.problem(columns_.worm,
                alike ? fmt::format("{} again", in_quotes(worm.written))
                      : fmt::format("{}, which is {} by another name", in_quotes(worm.written),
                                    in_quotes(first.written)),
                fmt::format("each worm once for group {} {} (it is on {} already)",
                            in_quotes(place.group->name), place.when(),
                            row.name_of_line(first.line)));
  }

  const Worms& worms_in(const CulturePlace& place) { return worms_[&(place.group->*place.time)]; }

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
      return one_group ? std::string(each.when())
                       : fmt::format("{} in group {}", each.when(), in_quotes(each.group->name));
    };
    if (!told_.emplace(first_worm.line, worm.line).second)
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
  const Source& source_;
  Problems& problems_;
  std::map<std::pair<const Trial*, std::string>, Group*> groups_;
  std::map<const Culture*, Worms> worms_;
  std::set<std::pair<std::size_t, std::size_t>> told_; ///< Lines of worms that have two names.
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
