#include "trial/trial_columns.hpp"

#include "base/text.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

/// Columns of one name with a number at its end, by number.
std::map<std::uint64_t, Column> numbered_columns(HeaderCells& header, std::string_view name) {
  constexpr std::size_t most_digits = 4;
  const auto is_number = [](std::string_view text) {
    return text.size() <= most_digits && parse_whole_number(text).has_value();
  };
  std::map<std::uint64_t, Column> columns;
  for (const NamesakeColumn& each : header.columns_starting(fmt::format("{}_", name), is_number)) {
    const auto [first, fresh] = columns.emplace(*parse_whole_number(each.rest), each.column);
    if (!fresh)
      header.problem(each.column,
                     fmt::format("a second column of this number (the first is {})",
                                 header.place(first->second)),
                     "one");
  }
  return columns;
}

/// Counts of an occasion in one unit: a column for the count, or for each of its repeats.
std::vector<CountColumn> counts_in(HeaderCells& header, std::string_view unit,
                                   std::string_view occasion,
                                   std::map<std::uint64_t, Column>& factors) {
  const std::string name = fmt::format("{}_{}", unit, occasion);
  const bool as_epg = unit == "epg";
  std::vector<CountColumn> counts;
  const Column single = header.column(name);
  if (single)
    counts.push_back({single, as_epg, {}});
  for (const auto& [number, column] : numbered_columns(header, name)) {
    if (single && counts.size() == 1)
      header.problem(column, fmt::format("this beside {}", name), "one of the two");
    const auto factor = factors.extract(number);
    counts.push_back({column, as_epg, factor ? factor.mapped() : Column{}});
  }
  if (counts.size() > most_repeats)
    header.problem(counts.back().count, fmt::format("{} counts of one sample", counts.size()),
                   fmt::format("at most {}", most_repeats));
  return counts;
}

enum class Presence { needed, optional };

OccasionColumns occasion_columns(HeaderCells& header, std::string_view occasion,
                                 Presence presence) {
  OccasionColumns columns;
  columns.factor = header.column(fmt::format("factor_{}", occasion));
  auto factors = numbered_columns(header, columns.factor.name);
  columns.counts = counts_in(header, "eggs", occasion, factors);
  auto in_epg = counts_in(header, "epg", occasion, factors);
  if (!columns.counts.empty() && !in_epg.empty())
    header.problem(in_epg.front().count,
                   fmt::format("this beside {}", columns.counts.front().count.name),
                   "one of the two");
  else if (columns.counts.empty() && in_epg.empty() && presence == Presence::needed)
    header.missing(fmt::format("eggs_{}", occasion), fmt::format("epg_{}", occasion));
  if (columns.counts.empty())
    columns.counts = std::move(in_epg);
  for (const auto& [number, factor] : factors)
    header.problem(factor, "a factor without its count",
                   fmt::format("a column eggs_{0}_{1} or epg_{0}_{1}", occasion, number));
  return columns;
}

/// Kinds of eggs told apart on one occasion.
std::map<std::string, CountColumn> kinds_on(HeaderCells& header, std::string_view occasion) {
  std::map<std::string, CountColumn> kinds;
  for (const std::string_view unit : {"eggs", "epg"}) {
    const std::string name = fmt::format("{}_{}", unit, occasion);
    const auto any = [](std::string_view) { return true; };
    for (const NamesakeColumn& each : header.columns_starting(name + ":", any)) {
      const auto [first, fresh] =
          kinds.emplace(canonical_worm(each.rest), CountColumn{each.column, unit == "epg", {}});
      if (!fresh)
        header.problem(each.column,
                       fmt::format("a second column of this worm (the first is {})",
                                   header.place(first->second.count)),
                       "one");
    }
    const auto numbered_kind = [](std::string_view rest) {
      const auto colon = rest.find(':');
      return colon != std::string_view::npos && parse_whole_number(rest.substr(0, colon));
    };
    for (const NamesakeColumn& each : header.columns_starting(name + "_", numbered_kind))
      header.problem(each.column, "a number and a worm",
                     fmt::format("one of the two (add up the eggs of this worm yourself, in a "
                                 "column {}{})",
                                 name, each.rest.substr(each.rest.find(':'))));
  }
  return kinds;
}

/// Columns such as eggs_day:28, each day with all that an occasion may have.
std::vector<VisitColumns> visit_columns(HeaderCells& header) {
  std::map<int, Column> days;
  for (const std::string_view unit : {"eggs", "epg", "factor"})
    for (const NamesakeColumn& each : header.unclaimed_starting(fmt::format("{}_day:", unit))) {
      const auto day = visit_day(each.rest);
      if (day)
        days.emplace(*day, each.column);
      else if (const auto number = parse_number(each.rest); number && *number <= 0)
        header.problem(each.column, fmt::format("a visit on day {}", each.rest),
                       fmt::format("a day after treatment, 1 to {} (counts before it stand under "
                                   "eggs_before or epg_before)",
                                   latest_visit_day));
      else
        header.problem(each.column, in_quotes(each.rest),
                       fmt::format("a day after treatment, a whole number from 1 to {}, as in "
                                   "{}_day:28 (of eggs told apart a column days_after has it)",
                                   latest_visit_day, unit));
    }
  // "eggs day 28" is a visit that would go missing, were it only told as not used.
  for (const std::string_view unit : {"eggs", "epg"})
    for (const NamesakeColumn& each : header.unclaimed_starting(fmt::format("{}_day_", unit)))
      if (parse_whole_number(each.rest))
        header.problem(each.column, in_quotes(each.column.name),
                       fmt::format("{}_day:{}, if a visit is meant", unit, each.rest));
  if (days.size() > most_visits)
    header.problem(days.rbegin()->second, fmt::format("{} visits", days.size()),
                   fmt::format("at most {}", most_visits));
  std::vector<VisitColumns> visits;
  for (const auto& [day, first] : days) {
    VisitColumns visit{day,
                       occasion_columns(header, fmt::format("day:{}", day), Presence::optional)};
    if (visit.columns.counts.empty() && visit.columns.factor)
      header.problem(visit.columns.factor, "a factor without its count",
                     fmt::format("a column eggs_day:{0} or epg_day:{0}", day));
    visits.push_back(std::move(visit));
  }
  return visits;
}

std::vector<KindColumns> kind_columns(HeaderCells& header, const TrialColumns& columns) {
  auto before = kinds_on(header, "before");
  auto after = kinds_on(header, "after");
  std::vector<KindColumns> kinds;
  for (const auto& [worm, column] : before)
    for (const auto& [other, other_column] : before)
      if (worm < other && may_be_one_worm(worm, other))
        header.problem(other_column.count, fmt::format("this beside {}", column.count.name),
                       "one column for a worm, or names that tell two worms apart");
  const auto lacks_other = [&](const Column& column, std::string_view occasion,
                               const std::string& worm) {
    header.problem(column, fmt::format("no column eggs_{}:{} beside it", occasion, worm),
                   "both (leave a cell empty where this worm was not counted)");
  };
  for (auto& [worm, column] : before) {
    const auto other = after.extract(worm);
    if (other)
      kinds.push_back({worm, column, other.mapped()});
    else
      lacks_other(column.count, "after", worm);
  }
  for (const auto& [worm, column] : after)
    lacks_other(column.count, "before", worm);
  // How much of the repeats was searched for the kind would be a guess.
  for (const OccasionColumns* occasion : {&columns.before, &columns.after})
    if (!kinds.empty() && occasion->counts.size() > 1) {
      header.problem(kinds.front().before.count,
                     fmt::format("this beside {}", occasion->counts.front().count.name),
                     "eggs told apart, or counts repeated, but not both in one table");
      break;
    }
  return kinds;
}

} // namespace

std::optional<int> visit_day(std::string_view rest) {
  const std::string_view digits = rest.substr(0, rest.find('_'));
  const auto day = parse_whole_number(digits);
  const bool written_plainly = day && fmt::format("{}", *day) == digits;
  return written_plainly && *day >= 1 && *day <= latest_visit_day
             ? std::optional(static_cast<int>(*day))
             : std::nullopt;
}

TrialColumns::TrialColumns(HeaderCells& header, NeededCounts needed)
    : trial(header.column("trial")), group(header.needed("group")), animal(header.needed("animal")),
      role(header.column("role")), drench(header.column("drench")),
      drug_class(header.column("class")), host(header.column("host")), worm(header.column("worm")),
      farm(header.column("farm")), region(header.column("region")), year(header.column("year")),
      animals_in_pool(header.column("animals_in_pool")), factor(header.column("factor")),
      before(occasion_columns(header, "before", Presence::needed)), visits(visit_columns(header)),
      after(occasion_columns(header, "after",
                             needed == NeededCounts::before_and_after && visits.empty()
                                 ? Presence::needed
                                 : Presence::optional)),
      kinds(kind_columns(header, *this)), weight_kg(header.column("weight_kg")),
      dose_ml(header.column("dose_ml")), mg_per_ml(header.column("mg_per_ml")),
      label_mg_per_kg(header.column("label_mg_per_kg")),
      label_ml_per_kg(header.column("label_ml_per_kg")), date_before(header.column("date_before")),
      date_treated(header.column("date_treated")), date_after(header.column("date_after")),
      days_after(header.column("days_after")) {
  if (!visits.empty() && days_after)
    header.problem(days_after, "this beside visits",
                   "the day of each visit in the head of its counts alone (eggs_day:28), and that "
                   "of eggs_after by its dates");
  if (!visits.empty() && after.counts.empty()) {
    if (date_after)
      header.problem(
          date_after,
          fmt::format("this beside {} and no eggs_after",
                      visits.front().columns.counts.empty()
                          ? std::string("visits")
                          : visits.front().columns.counts.front().count.name),
          "the day of each visit in the head of its counts alone, or a column eggs_after "
          "that this is the date of");
    if (!kinds.empty())
      header.problem(
          kinds.front().after.count, "eggs told apart, and no eggs_after beside visits",
          "a column eggs_after or epg_after, of the sample that they were told apart in");
  }
  header.refuse_misspelt(role); // or the untreated animals would be judged as drenched
  if (!date_after && visits.empty())
    for (const std::string_view word :
         {"days", "day"}) // or a fall on day 3 would pass for a test's
      header.refuse_word(days_after, word);
}

} // namespace eggfall
