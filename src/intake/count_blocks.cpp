#include "intake/count_blocks.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/group_names.hpp"
#include "intake/open_question.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t most_heads_listed = 8;

class BlockFinder {
public:
  BlockFinder(const SheetReading& reading, bool groups_in_rows, const Layout& layout,
              std::optional<DateOrder> order, ReadingLog& log)
      : reading_(reading), groups_in_rows_(groups_in_rows), layout_(layout), order_(order),
        log_(log), source_(reading.sheet->source) {}

  CountBlocks find(bool has_times) {
    const std::vector<const ColumnReading*> counts = counts_meant();
    ask_for_sums(counts);
    const bool timed =
        std::ranges::any_of(
            counts, [](const ColumnReading* column) { return column->time.operator bool(); }) &&
        !have_one_date_alone(counts);
    time_is_open_ = !timed || !has_times;
    if (timed && has_times)
      take_timed(counts);
    else
      for (const ColumnReading* column : counts)
        columns_.push_back({column, {{}, column->worm, column->repeat}, nullptr});
    drop_worms_of_one_time();
    put_epg_beside_eggs();
    settle_numbers();
    return {in_blocks(), time_is_open_};
  }

private:
  /// "Score before" is no count beside "EPG before", though it has a time.
  std::vector<const ColumnReading*> counts_meant() {
    std::vector<const ColumnReading*> counts = reading_.counts();
    const bool counts_said =
        std::ranges::any_of(counts, [](const ColumnReading* column) { return column->says_count; });
    if (counts_said)
      std::erase_if(counts, [](const ColumnReading* column) {
        return !column->says_count && !column->label.empty() && column->worm.empty();
      });
    return counts;
  }

  /// One date in all heads and nothing else of the time: it tells which sheet was sampled first,
  /// and not which time this is.
  bool have_one_date_alone(const std::vector<const ColumnReading*>& counts) const {
    return !layout_.day_before && !layout_.day_after &&
           std::ranges::all_of(counts, [&](const ColumnReading* column) {
             const TimePoint& time = column->time;
             return (time.date || time.yearless) && !time.occasion && !time.day && !time.place &&
                    look_of(time.text) == look_of(counts.front()->time.text);
           });
  }

  /// A mean or a total of a group is no animal's count; a mean of several counts of a sample may be
  /// read, and so may an animal's own total of eggs.
  void ask_for_sums(const std::vector<const ColumnReading*>& counts) const {
    const auto sum =
        std::ranges::find_if(counts, [](const ColumnReading* column) { return column->says_mean; });
    if (sum == counts.end() || layout_.mean_of)
      return;
    std::vector<LayoutAnswer> answers{answer("mean-of", "2",
                                             "if each is the mean of two counts of one animal's "
                                             "sample, or of as many as there are")};
    if (auto own_counts = as_own_counts(counts))
      answers.push_back(*std::move(own_counts));
    throw OpenQuestion({source_,
                        reading_.header_line,
                        (*sum)->index + 1,
                        (*sum)->head,
                        "means or totals, which cannot be judged if they are of groups (a table "
                        "needs a row for each animal)",
                        {}},
                       std::move(answers));
  }

  /// Nothing where two of the columns would have one name of ours.
  static std::optional<LayoutAnswer>
  as_own_counts(const std::vector<const ColumnReading*>& counts) {
    LayoutAnswer own_counts{{},
                            "if they are one animal's a row, of roundworm eggs alone: no coccidia, "
                            "tapeworm or fluke among them"};
    std::set<std::string> names;
    for (const ColumnReading* column : counts)
      if (column->says_mean) {
        const std::string name = said_name(*column);
        if (!names.insert(name).second)
          return std::nullopt;
        own_counts.settings.push_back({"column", name + '=' + column->head});
      }
    return own_counts;
  }

  /// Our name of a column by what its head says, and EPG where that says no unit, as sums do.
  static std::string said_name(ColumnReading column) {
    column.unit = column.unit.value_or(CountUnit::epg);
    std::optional<SampleTime> time;
    if (const auto occasion = occasion_said(column.time))
      time = SampleTime{*occasion, 0};
    return our_name(column, time);
  }

  void take_timed(const std::vector<const ColumnReading*>& counts) {
    std::vector<PlacedTime> times;
    std::vector<const ColumnReading*> timed;
    const auto add = [&](const ColumnReading* column, TimePoint time) {
      times.push_back({std::move(time), reading_.header_line, column->index + 1});
      timed.push_back(column);
    };
    for (const ColumnReading* column : counts)
      if (column->time)
        add(column, column->time);
    // "EPG" beside "EPG 2" is the first.
    const bool later_places = std::ranges::all_of(times, [](const PlacedTime& each) {
      return each.time.place && *each.time.place > 1 && !each.time.occasion && !each.time.day;
    });
    if (later_places)
      for (const ColumnReading* column : counts)
        if (!column->time) {
          TimePoint first;
          first.text = column->head;
          first.place = 1;
          add(column, std::move(first));
        }
    take_places_from_0_for_days(times);
    count_days_from_treatment(times);
    auto occasions = occasions_of(times, layout_, order_, source_);
    keep_named_columns(timed, occasions);
    const bool told_apart =
        std::ranges::any_of(timed, [](const auto* column) { return !column->worm.empty(); });
    // A column for dates that nobody filled in tells no day, and the head's must not be lost with
    // it.
    if (!reading_.tells("date_after")) {
      take_one_day_for_a_visit(times, occasions);
      ask_for_unit(times, timed, occasions, told_apart);
      ask_for_year(times, timed, occasions, told_apart);
    }
    if (const std::string visits = visits_told(times, occasions); !visits.empty()) {
      if (told_apart && are_of_several_days(occasions))
        ask_for_times(times, order_, source_); // eggs told apart are of one sample after treatment
      log_.tell(fmt::format("{}: {}", source_.shown(), visits));
    }
    for (std::size_t i = 0; i < timed.size(); ++i)
      if (occasions[i])
        columns_.push_back({timed[i], {*occasions[i], timed[i]->worm, timed[i]->repeat}, nullptr});
  }

  /// Beside days that the layout names, a column that it names keeps its time: the one answer may
  /// have followed the other.
  static void keep_named_columns(const std::vector<const ColumnReading*>& timed,
                                 std::vector<std::optional<SampleTime>>& occasions) {
    for (std::size_t i = 0; i < timed.size(); ++i) {
      const TimePoint& time = timed[i]->time;
      if (occasions[i] || !timed[i]->by_layout)
        continue;
      if (time.occasion)
        occasions[i] = SampleTime{*time.occasion, 0};
      else if (time.day && *time.day >= 1)
        occasions[i] = SampleTime{Occasion::after, static_cast<int>(*time.day)};
    }
  }

  /// "EPG 0" and "EPG 28": no place in a row is 0.
  static void take_places_from_0_for_days(std::vector<PlacedTime>& times) {
    const auto place = [](const PlacedTime& each) { return each.time.place.value_or(1); };
    if (std::ranges::find(times, 0, place) == times.end())
      return;
    for (PlacedTime& each : times)
      if (each.time.place && !each.time.day) {
        each.time.day = *each.time.place;
        each.time.place.reset();
      }
  }

  using Occasions = std::vector<std::optional<SampleTime>>;

  /// The one column of counts of a time; null if there are several.
  static const ColumnReading* only_column(const std::vector<const ColumnReading*>& timed,
                                          const Occasions& occasions, Occasion occasion) {
    const ColumnReading* found = nullptr;
    for (std::size_t i = 0; i < timed.size(); ++i)
      if (occasions[i] && occasions[i]->occasion == occasion) {
        if (found != nullptr)
          return nullptr;
        found = timed[i];
      }
    return found;
  }

  /// Both columns are named, so that they are of one unit. None where there are several, or where
  /// eggs are told apart, which have no visits.
  static void add_as_visit(std::vector<LayoutAnswer>& answers,
                           const std::vector<const ColumnReading*>& timed,
                           const Occasions& occasions, int day, const std::string& means) {
    const ColumnReading* const before = only_column(timed, occasions, Occasion::before);
    const ColumnReading* const after = only_column(timed, occasions, Occasion::after);
    if (before == nullptr || after == nullptr || day < 1 || day > latest_visit_day)
      return;
    for (const CountUnit unit : {CountUnit::epg, CountUnit::eggs})
      if (before->unit.value_or(unit) == unit && after->unit.value_or(unit) == unit)
        answers.push_back(
            {{{"column", fmt::format("{}_before={}", to_string(unit), before->head)},
              {"column", fmt::format("{}_day:{}={}", to_string(unit), day, after->head)}},
             means});
  }

  /// Days or weeks after treatment: on day 3 a fall proves nothing.
  void ask_for_unit(const std::vector<PlacedTime>& times,
                    const std::vector<const ColumnReading*>& timed, const Occasions& occasions,
                    bool told_apart) const {
    const auto unsaid = time_of_unsaid_unit(times, occasions);
    if (!unsaid)
      return;
    const int number = static_cast<int>(*times[*unsaid].time.day);
    const Problem place{
        source_,
        reading_.header_line,
        timed[*unsaid]->index + 1,
        timed[*unsaid]->head,
        fmt::format("{}, and nothing says whether it is of days or of weeks", number),
        fmt::format("a head that says so, such as Day {} or Week {}", number, number)};
    std::vector<LayoutAnswer> answers;
    if (!told_apart) {
      add_as_visit(answers, timed, occasions, number, "days after treatment");
      add_as_visit(answers, timed, occasions, number * static_cast<int>(days_a_week), "weeks");
    }
    if (answers.empty())
      throw InputError({place});
    throw OpenQuestion(place, std::move(answers));
  }

  /// Where the days between two dates without a year speak against the test, or the day of
  /// treatment is told and they cannot be held against it.
  void ask_for_year(const std::vector<PlacedTime>& times,
                    const std::vector<const ColumnReading*>& timed, const Occasions& occasions,
                    bool told_apart) const {
    const std::vector<int> apart = days_apart_without_year(times, occasions, layout_.dates);
    const bool matters =
        reading_.tells("date_treated") || !std::ranges::all_of(apart, is_usual_time_apart);
    if (apart.empty() || !matters)
      return;
    const auto first_after = std::ranges::find_if(times, [&](const PlacedTime& each) {
      const auto& occasion = occasions[static_cast<std::size_t>(&each - times.data())];
      return each.time.yearless && occasion && occasion->occasion == Occasion::after;
    });
    const ColumnReading& after = *timed[static_cast<std::size_t>(first_after - times.begin())];
    Problem place{source_, reading_.header_line, after.index + 1, after.head, {}, {}};
    if (apart.size() > 1 && !layout_.dates) {
      place.found = fmt::format("dates without a year, which are {} or {} days apart by the order "
                                "of day and month",
                                apart[0], apart[1]);
      throw OpenQuestion(place, {answer("dates", "day-first"), answer("dates", "month-first")});
    }
    place.found = fmt::format("a date without its year, {} days behind that of the sample before",
                              apart.front());
    place.expected = "the year in both heads (such as 3/5/2031), from which the days are counted";
    std::vector<LayoutAnswer> answers;
    if (!told_apart && !reading_.tells("date_treated"))
      add_as_visit(answers, timed, occasions, apart.front(),
                   fmt::format("if it was day {} after treatment, or the day that it was; or the "
                               "year in both heads",
                               apart.front()));
    if (answers.empty())
      throw InputError({place});
    throw OpenQuestion(place, std::move(answers));
  }

  /// Of more dates than two where all rows have one date of treatment.
  void count_days_from_treatment(std::vector<PlacedTime>& times) {
    const ColumnReading* const treated = reading_.attribute("date_treated");
    const bool dates = std::ranges::all_of(
        times, [](const PlacedTime& each) { return each.time.date && !each.time.day; });
    if (treated == nullptr || !dates || times.size() < 3)
      return;
    const auto day_of = [&](const WrittenDate& date) -> std::optional<std::chrono::sys_days> {
      const auto day = in_order(date, order_);
      return day ? std::optional(std::chrono::sys_days(*day)) : std::nullopt;
    };
    std::set<std::chrono::sys_days> treatments;
    for (const SampleRow& row : reading_.rows)
      if (const auto date = written_date(row.cell(treated->index), layout_.words()))
        if (const auto day = day_of(*date))
          treatments.insert(*day);
    if (treatments.size() != 1 || !std::ranges::all_of(times, [&](const PlacedTime& each) {
          return day_of(*each.time.date).has_value();
        }))
      return;
    for (PlacedTime& each : times) {
      each.time.day = static_cast<double>((*day_of(*each.time.date) - *treatments.begin()).count());
      each.time.unit_said = true;
    }
    log_.tell(fmt::format("{}: the days of visits are counted from {}", source_.shown(),
                          in_quotes(treated->head)));
  }

  /// A worm that was told apart at one time alone cannot be compared.
  void drop_worms_of_one_time() {
    if (time_is_open_)
      return;
    std::map<std::string, std::set<Occasion>> times_of;
    for (const KeyedColumn& each : columns_)
      times_of[each.key.worm].insert(each.key.time.occasion);
    std::erase_if(columns_, [&](const KeyedColumn& each) {
      const bool alone = !each.key.worm.empty() && times_of[each.key.worm].size() == 1;
      if (alone)
        log_.tell(fmt::format("{}: {} is not used: {} was told apart at one time alone",
                              source_.shown(), in_quotes(each.column->head), each.key.worm));
      return alone;
    });
  }

  /// Where both stand side by side for one sample, the eggs are what was seen.
  void put_epg_beside_eggs() {
    const auto same_sample = [](const KeyedColumn& a, const KeyedColumn& b) {
      return a.key == b.key && a.column->number == b.column->number &&
             look_of(a.column->label) == look_of(b.column->label);
    };
    std::vector<std::string> heads;
    for (KeyedColumn& eggs : columns_) {
      if (eggs.column->unit != CountUnit::eggs)
        continue;
      const auto epg = std::ranges::find_if(columns_, [&](const KeyedColumn& each) {
        return each.column->unit == CountUnit::epg && same_sample(each, eggs);
      });
      if (epg == columns_.end())
        continue;
      eggs.epg_beside = epg->column;
      heads.push_back(epg->column->head);
    }
    std::erase_if(columns_, [&](const KeyedColumn& each) {
      return std::ranges::any_of(columns_, [&](const KeyedColumn& eggs) {
        return eggs.epg_beside != nullptr && eggs.epg_beside == each.column;
      });
    });
    if (!heads.empty())
      log_.tell(fmt::format("{}: the eggs seen are read, and not the EPG beside them ({})",
                            source_.shown(), quoted_list(heads, most_heads_listed)));
  }

  // Columns that differ in a number alone.

  using Namesakes = std::vector<KeyedColumn*>;

  /// By key and label.
  std::map<std::tuple<CountKey, std::string>, Namesakes> namesakes() {
    std::map<std::tuple<CountKey, std::string>, Namesakes> by_key;
    for (KeyedColumn& each : columns_)
      by_key[{each.key, look_of(label_of(each))}].push_back(&each);
    return by_key;
  }

  std::string label_of(const KeyedColumn& each) const {
    const auto found = labels_.find(each.column);
    return found == labels_.end() ? each.column->label : found->second;
  }

  void settle_numbers() {
    for (auto& [key, columns] : namesakes()) {
      if (columns.size() < 2)
        continue;
      std::set<int> numbers;
      for (const KeyedColumn* each : columns)
        numbers.insert(each->column->number);
      if (numbers.size() < columns.size())
        ask_which(*columns[0], *columns[1]);
      if (!layout_.side_by_side)
        ask_what_differs(*columns[0], *columns.back());
      numbered_ = true;
    }
    if (!numbered_)
      return;
    for (KeyedColumn& each : columns_)
      if (layout_.side_by_side == SideBySide::repeats)
        each.key.repeat = std::max(1, each.column->number);
      else
        labels_[each.column] =
            each.column->label.empty()
                ? fmt::format("{}", std::max(1, each.column->number))
                : fmt::format("{} {}", each.column->label, std::max(1, each.column->number));
  }

  /// " before treatment"; nothing where the time is open.
  std::string time_told(const KeyedColumn& each) const {
    return time_is_open_ ? std::string()
           : each.key.time.day > 0
               ? fmt::format(" on day {}", each.key.time.day)
               : fmt::format(" {} treatment", to_string(each.key.time.occasion));
  }

  /// "epg_before=Pre EPG". Where the time of the sheet is still open, none is named, or the counts
  /// after treatment could become those before.
  std::string named(const KeyedColumn& each, CountUnit unit) const {
    ColumnReading column = *each.column;
    column.unit = unit;
    column.repeat = 0;
    return our_name(column, time_is_open_ ? std::nullopt : std::optional(each.key.time)) + '=' +
           column.head;
  }

  /// Of a column that does not say its unit both are offered.
  void add_choices(std::vector<LayoutAnswer>& answers, const KeyedColumn& each,
                   const std::string& means) const {
    for (const CountUnit unit : {CountUnit::epg, CountUnit::eggs})
      if (each.column->unit.value_or(unit) == unit)
        answers.push_back(answer("column", named(each, unit), means));
  }

  [[noreturn]] void ask_what_differs(const KeyedColumn& one, const KeyedColumn& other) const {
    std::vector<LayoutAnswer> answers{answer("side-by-side", "repeats", "counts of one sample"),
                                      answer("side-by-side", "groups", "of groups of animals")};
    add_choices(answers, other, "it alone, of two visits");
    throw OpenQuestion(
        {source_,
         reading_.header_line,
         other.column->index + 1,
         other.column->head,
         fmt::format("columns {} and {} for counts{}, which may be two counts of one "
                     "sample, two visits, or two groups",
                     in_quotes(one.column->head), in_quotes(other.column->head), time_told(other)),
         {}},
        std::move(answers));
  }

  [[noreturn]] void ask_which(const KeyedColumn& one, const KeyedColumn& other) const {
    if (look_of(one.column->head) == look_of(other.column->head))
      throw InputError(
          {Problem{source_, reading_.header_line, other.column->index + 1, other.column->head,
                   fmt::format("two columns of this name for counts{}", time_told(other)),
                   "heads that tell them apart, such as EPG before and EPG after"}});
    std::vector<LayoutAnswer> answers;
    add_choices(answers, one, "and so each that is wanted");
    add_choices(answers, other, "");
    throw OpenQuestion({source_,
                        reading_.header_line,
                        other.column->index + 1,
                        other.column->head,
                        fmt::format("two columns for counts{}, this and {}", time_told(other),
                                    in_quotes(one.column->head)),
                        {}},
                       std::move(answers));
  }

  // Groups side by side.

  std::vector<CountBlock> in_blocks() {
    const auto twins = twins_by_label();
    if (!twins)
      return {CountBlock{{}, columns_, reading_.attribute("animal")}};
    if (layout_.side_by_side == SideBySide::repeats && !numbered_)
      return {as_repeats()};
    if (groups_in_rows_)
      ask_which(*twins->first, *twins->second);
    std::vector<CountBlock> blocks;
    for (const KeyedColumn& each : columns_) {
      std::string label = label_of(each);
      if (label.empty())
        label = only_group;
      auto found = std::ranges::find_if(
          blocks, [&](const CountBlock& block) { return look_of(block.label) == look_of(label); });
      if (found == blocks.end()) {
        found = blocks.insert(blocks.end(), CountBlock{label, {}, nullptr});
        found->tag = tag_left_of(each.column->index);
      }
      found->counts.push_back(each);
    }
    if (!layout_.side_by_side && (animals_are_in_several(blocks) || lacks_a_time(blocks)))
      ask_what_differs(*twins->first, *twins->second);
    std::vector<std::string> labels;
    for (const CountBlock& block : blocks)
      labels.push_back(block.label);
    constexpr std::size_t most_labels = 12;
    log_.tell(fmt::format("{}: groups stand side by side: {}", source_.shown(),
                          quoted_list(labels, most_labels)));
    return blocks;
  }

  /// Two columns of one key, under different labels.
  std::optional<std::pair<const KeyedColumn*, const KeyedColumn*>> twins_by_label() const {
    for (std::size_t i = 0; i < columns_.size(); ++i)
      for (std::size_t j = 0; j < i; ++j)
        if (columns_[i].key == columns_[j].key)
          return std::pair{&columns_[j], &columns_[i]};
    return std::nullopt;
  }

  CountBlock as_repeats() {
    std::vector<std::string> labels;
    CountBlock block{{}, columns_, reading_.attribute("animal")};
    for (KeyedColumn& each : block.counts) {
      const std::string label = look_of(each.column->label);
      auto found = std::ranges::find(labels, label);
      if (found == labels.end())
        found = labels.insert(labels.end(), label);
      each.key.repeat = static_cast<int>(found - labels.begin()) + 1;
    }
    return block;
  }

  /// "EPG post repeat" has no count before beside it, as a group's would.
  bool lacks_a_time(const std::vector<CountBlock>& blocks) const {
    return !time_is_open_ && std::ranges::any_of(blocks, [](const CountBlock& block) {
      std::set<Occasion> times;
      for (const KeyedColumn& each : block.counts)
        times.insert(each.key.time.occasion);
      return times.size() == 1;
    });
  }

  /// Whether one column names the animals of all blocks, and a row has counts in several: then an
  /// animal would be in two groups. A running number names no animal.
  bool animals_are_in_several(const std::vector<CountBlock>& blocks) const {
    const ColumnReading* const tag = blocks.front().tag;
    if (tag == nullptr || reading_.numbers_rows(*tag) ||
        std::ranges::any_of(blocks, [&](const CountBlock& block) { return block.tag != tag; }))
      return false;
    return std::ranges::any_of(reading_.rows, [&](const SampleRow& row) {
      const auto has_counts = [&](const CountBlock& block) {
        return std::ranges::any_of(block.counts, [&](const KeyedColumn& each) {
          return !row.cell(each.column->index).empty();
        });
      };
      return std::ranges::count_if(blocks, has_counts) > 1;
    });
  }

  const ColumnReading* tag_left_of(std::size_t index) const {
    const ColumnReading* tag = nullptr;
    for (const ColumnReading& column : reading_.columns)
      if (column.kind == ColumnReading::Kind::attribute && column.name == "animal" &&
          (column.index < index || tag == nullptr))
        tag = &column;
    return tag;
  }

  const SheetReading& reading_;
  bool groups_in_rows_;
  const Layout& layout_;
  std::optional<DateOrder> order_;
  ReadingLog& log_;
  const Source& source_;
  bool time_is_open_ = false;
  bool numbered_ = false; ///< Numbers tell repeats, or groups, apart.
  std::vector<KeyedColumn> columns_;
  std::map<const ColumnReading*, std::string> labels_; ///< With their numbers, if they name groups.
};

} // namespace

CountBlocks count_blocks(const SheetReading& reading, bool groups_in_rows, bool has_times,
                         const Layout& layout, std::optional<DateOrder> order, ReadingLog& log) {
  return BlockFinder(reading, groups_in_rows, layout, order, log).find(has_times);
}

} // namespace eggfall
