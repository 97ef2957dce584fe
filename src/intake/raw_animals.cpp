#include "intake/raw_animals.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/count_cell.hpp"
#include "intake/group_names.hpp"
#include "intake/kinds_at_odds.hpp"
#include "intake/open_question.hpp"
#include "intake/same_animal.hpp"
#include "intake/time_point.hpp"
#include "trial/field_words.hpp"
#include "trial/trial_time.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <tuple>
#include <utility>

namespace eggfall {
namespace {

using Kind = ColumnReading::Kind;

/// Whether an attribute is the day of whichever sample its row is of, and so of the one time or of
/// the other.
bool is_day_of_sample(std::string_view name) {
  return name == "date";
}

class Folder {
public:
  Folder(const SheetReading& reading, const Layout& layout, std::optional<DateOrder> order,
         Problems& problems, ReadingLog& log)
      : reading_(reading), layout_(layout), order_(order), problems_(problems), log_(log),
        groups_(reading, own_), same_(layout, order, problems), source_(reading.sheet->source) {
    result_.source = source_;
    result_.around = reading.around;
    for (const NoteRow& note : reading.notes)
      result_.notes.push_back({note.text, source_, note.line, 0, {}});
    result_.has_tags = reading.attribute("animal") != nullptr;
    result_.has_groups = groups_.are_told();
    for (const ColumnReading* column : reading.counts()) {
      result_.tells_dates = result_.tells_dates || column->time.date;
      if (column->time.yearless)
        result_.yearless = column->time;
    }
    for (const char* const name : {"date", "date_before", "date_after"})
      result_.tells_dates = result_.tells_dates || reading.tells(name);
  }

  SheetAnimals fold() {
    refuse_rows_by_worm(reading_);
    const bool timed = std::ranges::any_of(reading_.counts(), [](const ColumnReading* column) {
      return column->time.operator bool();
    });
    const ColumnReading* when = nullptr;
    if (!timed)
      when = reading_.when() != nullptr ? reading_.when()
             : days_repeat()            ? reading_.attribute("date")
                                        : nullptr;
    const CountBlocks found =
        count_blocks(reading_, result_.has_groups, when == nullptr, layout_, order_, own_);
    if (when != nullptr)
      fold_by(*when, found.blocks);
    else
      take_rows(found);
    tell();
    return std::move(result_);
  }

private:
  /// One that a sheet shows an error in is a problem, and empty.
  RawCell cell(const SampleRow& row, const ColumnReading& column) const {
    RawCell raw{std::string(row.cell(column.index)), source_, row.row->line, column.index + 1,
                column.head};
    for (const UnreadableCell& each : row.row->unreadable)
      if (each.column == column.index) {
        problems_.add(raw.problem(each.found, each.expected));
        raw.text.clear();
      }
    return raw;
  }

  /// Whether the column of dates tells an animal's samples apart.
  bool days_repeat() const {
    const ColumnReading* const tag = reading_.attribute("animal");
    const ColumnReading* const date = reading_.attribute("date");
    if (date == nullptr || tag == nullptr)
      return false;
    std::map<std::string, std::set<std::string_view>> dates_of;
    for (const SampleRow& row : reading_.rows)
      dates_of[tag_text(row, *tag)].insert(row.cell(date->index));
    return std::ranges::any_of(dates_of,
                               [](const auto& animal) { return animal.second.size() > 1; });
  }

  /// Of one animal apart from another of its name in another group or trial.
  std::string tag_text(const SampleRow& row, const ColumnReading& tag) const {
    const ColumnReading* const group = reading_.attribute("group");
    return fmt::format("{}\n{}\n{}", trial_of(row), group != nullptr ? row.cell(group->index) : "",
                       row.cell(tag.index));
  }

  /// What tells its trial from others of the table; empty where nothing does.
  std::string trial_of(const SampleRow& row) const {
    std::string trial;
    for (const std::string_view name : trial_marks)
      if (const ColumnReading* const mark = reading_.attribute(name))
        trial += look_of(row.cell(mark->index)) + '\n';
    return trial;
  }

  // A table with one row an animal.

  void take_rows(const CountBlocks& found) {
    result_.time_is_open = found.time_is_open;
    const bool side_by_side = found.blocks.size() > 1;
    for (const CountBlock& block : found.blocks)
      for (const KeyedColumn& each : block.counts) {
        result_.occasions.insert(each.key.time.occasion);
        remember(each, found.time_is_open ? std::nullopt : std::optional(each.key.time));
      }
    for (const SampleRow& row : reading_.rows) {
      const std::string group = groups_.name_of(row);
      for (const CountBlock& block : found.blocks)
        take_row(row, block, side_by_side ? block.label : group);
    }
    result_.has_groups = result_.has_groups || side_by_side;
  }

  void take_row(const SampleRow& row, const CountBlock& block, const std::string& group) {
    RawAnimal animal;
    animal.group = group;
    animal.tag = tag_of(row, block.tag);
    bool any = false;
    for (const KeyedColumn& each : block.counts) {
      RawCount count = count_in(row, each);
      any = any || !count.cell.text.empty();
      animal.counts[each.key] = std::move(count);
      if (each.key.time.day == 0)
        take_date_of_head(*each.column, each.key.time.occasion, row, animal);
    }
    // Groups side by side may have different numbers of animals.
    if (!block.label.empty() && !any)
      return;
    take_attributes(row, animal,
                    result_.occasions.size() == 1
                        ? std::optional(SampleTime{*result_.occasions.begin(), 0})
                        : std::nullopt);
    result_.animals.push_back(std::move(animal));
  }

  /// "EPG 3/5/2031" dates the samples below it, unless their rows have dates.
  void take_date_of_head(const ColumnReading& column, Occasion occasion, const SampleRow& row,
                         RawAnimal& animal) const {
    const std::string name = fmt::format("date_{}", to_string(occasion));
    if (column.time.date && reading_.attribute(name) == nullptr)
      animal.attributes.emplace(
          name, RawCell{column.time.text, source_, row.row->line, column.index + 1, column.head});
  }

  RawCount count_in(const SampleRow& row, const KeyedColumn& each) const {
    RawCount count{cell(row, *each.column), each.column->unit, {}};
    if (each.epg_beside != nullptr)
      count.epg_beside = cell(row, *each.epg_beside);
    return count;
  }

  RawCell tag_of(const SampleRow& row, const ColumnReading* column) {
    if (column == nullptr)
      return {source_.line(row.row->line), source_, row.row->line, 0, {}};
    used_.insert(column->index);
    return cell(row, *column);
  }

  void take_attributes(const SampleRow& row, RawAnimal& animal,
                       const std::optional<SampleTime>& of_sample) {
    for (const ColumnReading& column : reading_.columns) {
      if (column.kind != Kind::attribute || column.name == "animal" || column.name == "group")
        continue;
      if (&column != reading_.attribute(column.name) && column.name != "role")
        continue;
      std::string name = column.name;
      if (is_day_of_sample(name)) {
        // Beside a date of its own for the second sample, a plain one is that of the first.
        const bool second_dated = reading_.attribute("date_after") != nullptr &&
                                  reading_.attribute("date_before") == nullptr;
        if (!of_sample && !second_dated)
          continue;
        if (of_sample && of_sample->day > 0) {
          used_.insert(column.index); // for the day of the visit
          continue;
        }
        name = fmt::format("date_{}", to_string(of_sample.value_or(SampleTime{})));
      } else if (name == "days_after" && of_sample && of_sample->occasion == Occasion::before) {
        used_.insert(column.index); // of a sheet of the first samples, day 0
        continue;
      } else if (name == "factor" && of_sample) {
        name = fmt::format("factor_{}", to_string(*of_sample));
      }
      used_.insert(column.index);
      RawCell raw = cell(row, column);
      if (raw.text.empty())
        raw.text = column.of_every_row;
      const auto found = animal.attributes.find(name);
      if (found == animal.attributes.end() || found->second.line != raw.line)
        same_.add(animal, name, std::move(raw)); // of one row the first such column counts
    }
  }

  // A table with one row a sample.

  /// Its trial, its group and its tag.
  using AnimalKey = std::array<std::string, 3>;

  struct Sample {
    const SampleRow* row;
    std::string trial;
    std::string group;
    RawCell tag;
    TimePoint time;
    std::optional<SampleTime> taken;

    AnimalKey animal() const { return {trial, group, tag.text}; }
  };

  void fold_by(const ColumnReading& when, const std::vector<CountBlock>& blocks) {
    used_.insert(when.index);
    std::vector<Sample> samples;
    const ColumnReading* const tag = reading_.attribute("animal");
    RawCell last_tag;
    const bool merged = tag != nullptr && is_merged(reading_, *tag);
    for (const SampleRow& row : reading_.rows) {
      Sample sample{&row, trial_of(row), groups_.name_of(row), tag_of(row, tag), {}, {}};
      // Merged cells: an animal's name stands in the first of its rows.
      if (merged && sample.tag.text.empty() && !last_tag.text.empty()) {
        sample.tag.text = last_tag.text;
        ++tags_filled_down_;
      }
      last_tag = sample.tag;
      const RawCell raw = cell(row, when);
      sample.time = time_under(when.head, raw.text, layout_.words());
      if (when.name == "date" && !sample.time.date && !raw.text.empty()) {
        refuse_date(raw);
        continue;
      }
      const bool said = layout_.day_before || layout_.day_after; // then any word may be one
      if (!sample.time && !(said && !raw.text.empty())) {
        problems_.add_once(
            "time " + raw.text,
            raw.problem(
                raw.text.empty() ? "nothing" : in_quotes(raw.text),
                "before or after, a day from treatment, or a date; or which words mean which: " +
                    Wording({Mention{Setting::day_before, "THEIRS"},
                             Mention{Setting::day_after, "THEIRS"}})));
        continue;
      }
      sample.time.text = raw.text;
      samples.push_back(std::move(sample));
    }
    if (samples.empty())
      return; // no row has a time, and each was told
    if (tag == nullptr)
      throw OpenQuestion(
          {source_,
           reading_.header_line,
           0,
           {},
           "samples before and after in rows of their own, and no column that names "
           "animals (rows are never paired by their order)",
           {}},
          {answer("column", "animal=THEIRS", "the head of the column that names them")});
    part_by_treatment(samples);
    settle_times(samples, when);
    own_.tell(fmt::format("{}: one row a sample, folded by {} at the times under {}: {}",
                          source_.shown(), in_quotes(tag->head), in_quotes(when.head),
                          times_told(samples)));
    refuse_two_groups(samples);
    refuse_two_trials(samples);
    if (blocks.size() > 1)
      throw InputError({Problem{source_,
                                reading_.header_line,
                                0,
                                {},
                                "one row a sample, and columns of counts for several groups",
                                "one column of counts, and one that names the group"}});
    for (const KeyedColumn& each : blocks.front().counts)
      remember(each, std::nullopt);
    put_together(samples, blocks.front().counts);
  }

  /// Animals in the order of the rows; what is known of them in that of their samples.
  void put_together(const std::vector<Sample>& samples, const std::vector<KeyedColumn>& counts) {
    std::map<AnimalKey, std::size_t> index_of;
    std::vector<const Sample*> in_time;
    for (const Sample& sample : samples) {
      if (!sample.taken)
        continue;
      in_time.push_back(&sample);
      result_.occasions.insert(sample.taken->occasion);
      if (index_of.emplace(sample.animal(), result_.animals.size()).second) {
        result_.animals.emplace_back();
        result_.animals.back().group = sample.group;
        result_.animals.back().tag = sample.tag;
      }
    }
    std::ranges::stable_sort(in_time, {}, [](const Sample* sample) { return *sample->taken; });
    for (const Sample* sample : in_time)
      put(*sample, counts, result_.animals[index_of.at(sample->animal())]);
    same_.tell(source_, own_);
  }

  /// Tests of one trial's name whose days of treatment lie far apart are two, as the reader of
  /// counts tables has it. Where a row tells none, nothing is parted.
  void part_by_treatment(std::vector<Sample>& samples) const {
    const ColumnReading* const treated = reading_.attribute("date_treated");
    if (treated == nullptr)
      return;
    std::map<std::string, std::vector<TestTime>> tests_of;
    std::vector<std::size_t> test_of;
    for (const Sample& sample : samples) {
      const auto date = written_date(sample.row->cell(treated->index), layout_.words());
      const TestTime time{{}, date ? day_of(*date) : std::nullopt};
      if (!time.day)
        return;
      std::vector<TestTime>& tests = tests_of[sample.trial];
      const auto found = std::ranges::find_if(
          tests, [&](const TestTime& test) { return may_be_one_test(test, time); });
      test_of.push_back(static_cast<std::size_t>(found - tests.begin()));
      if (found == tests.end())
        tests.push_back(time);
    }
    for (std::size_t i = 0; i < samples.size(); ++i)
      samples[i].trial += fmt::format("{}", test_of[i]);
  }

  /// In a column of dates, so that no answer is offered that could not be followed.
  void refuse_date(const RawCell& raw) {
    constexpr std::size_t least_digits = 5; // of any day since 1927
    const bool number = raw.text.size() >= least_digits &&
                        raw.text.find_first_not_of("0123456789") == std::string::npos;
    problems_.add_once("date " + raw.text,
                       raw.problem(in_quotes(raw.text),
                                   number ? "a date with its year, such as 2031-04-27 (a "
                                            "spreadsheet's number of a day: format the cells as "
                                            "dates and save the table again)"
                                          : "a date with its year, such as 2031-04-27, 27/4/2031 "
                                            "or 27 April 2031"));
  }

  void remember(const KeyedColumn& each, const std::optional<SampleTime>& time) {
    ColumnReading column = *each.column;
    column.repeat = each.key.repeat;
    used_.insert(column.index);
    count_names_[column.index] = our_name(column, time);
  }

  /// The two names under which an animal stands, each at one time alone, and at two times; nothing
  /// if it is not so.
  struct OneSided {
    const Sample* first = nullptr;
    std::set<Occasion> times;
  };
  using Halves = std::pair<const Sample*, const Sample*>;
  static std::optional<Halves> halves_of(const std::map<std::string, OneSided>& named) {
    std::vector<const Sample*> halves;
    for (const auto& [name, each] : named)
      if (each.times.size() == 1)
        halves.push_back(each.first);
    if (halves.size() != 2 || halves[0]->taken->occasion == halves[1]->taken->occasion)
      return std::nullopt;
    if (halves[0]->row->row->line > halves[1]->row->row->line)
      std::swap(halves[0], halves[1]);
    return Halves{halves[0], halves[1]};
  }

  /// By animal and then by name; in the order of the rows.
  using NamedAnimals =
      std::map<std::pair<std::string, std::string>, std::map<std::string, OneSided>>;
  static std::vector<Halves> halves_in_order(const NamedAnimals& animals) {
    std::vector<Halves> found;
    for (const auto& [animal, named] : animals)
      if (const auto halves = halves_of(named))
        found.push_back(*halves);
    std::ranges::sort(found, {}, [](const Halves& each) { return each.second->row->row->line; });
    return found;
  }

  /// As two animals it would be in no count of both times, and a drench could lose the eggs that it
  /// left.
  void refuse_two_groups(const std::vector<Sample>& samples) {
    NamedAnimals animals;
    for (const Sample& sample : samples)
      if (sample.taken)
        note(animals[{sample.trial, sample.tag.text}][sample.group], sample);
    std::erase_if(animals, [](const auto& animal) { return animal.second.size() != 2; });
    for (const auto& [first, second] : halves_in_order(animals))
      problems_.add(second->tag.problem(
          fmt::format("{} under {}, and under {} on {}", in_quotes(second->tag.text),
                      in_quotes(second->group), in_quotes(first->group), line_of(*first)),
          "the same group in all rows of an animal; of two animals, names that differ"));
  }

  /// The same of an animal whose farm differs between its times, and of a log with one farm before
  /// and another after, each with animals called 1, 2, 3.
  void refuse_two_trials(const std::vector<Sample>& samples) {
    NamedAnimals animals;
    for (const Sample& sample : samples)
      if (sample.taken)
        note(animals[{sample.group, sample.tag.text}][sample.trial], sample);
    for (const auto& [first, second] : halves_in_order(animals))
      if (const ColumnReading* const mark = mark_between(*first, *second)) {
        const RawCell here = cell(*second->row, *mark);
        problems_.add(here.problem(
            fmt::format("{} for {} {} treatment, and {} {} treatment on {}", in_quotes(here.text),
                        in_quotes(second->tag.text), to_string(second->taken->occasion),
                        in_quotes(cell(*first->row, *mark).text), to_string(first->taken->occasion),
                        line_of(*first)),
            fmt::format("the same {} in all rows of an animal; of two animals, names that differ, "
                        "or a row for both times of each (its count empty where it was not "
                        "sampled)",
                        mark->name)));
      }
  }

  static void note(OneSided& each, const Sample& sample) {
    if (each.first == nullptr)
      each.first = &sample;
    each.times.insert(sample.taken->occasion);
  }

  /// The column that tells the trials of two samples apart.
  const ColumnReading* mark_between(const Sample& a, const Sample& b) const {
    for (const std::string_view name : {"trial", "farm", "year", "date_treated"})
      if (const ColumnReading* const mark = reading_.attribute(name))
        if (look_of(a.row->cell(mark->index)) != look_of(b.row->cell(mark->index)))
          return mark;
    return nullptr;
  }

  std::string line_of(const Sample& sample) const { return source_.line(sample.row->row->line); }

  /// Days that are dates count by animal: two of an animal are before and after.
  void settle_times(std::vector<Sample>& samples, const ColumnReading& when) {
    const bool dates = std::ranges::all_of(
        samples, [](const Sample& sample) { return sample.time.date.has_value(); });
    if (dates && !layout_.day_before && !layout_.day_after) {
      settle_dates(samples, when);
      return;
    }
    std::vector<PlacedTime> times;
    for (const Sample& sample : samples)
      times.push_back({sample.time, sample.row->row->line, when.index + 1});
    auto occasions = occasions_of(times, layout_, order_, source_);
    if (!layout_.day_before && !layout_.day_after)
      ask_for_words(samples, times, occasions);
    const bool dated = has_date_after(samples, occasions);
    if (!dated) {
      take_one_day_for_a_visit(times, occasions);
      refuse_lost_day(samples, when, times, occasions);
    }
    for (std::size_t i = 0; i < samples.size(); ++i)
      samples[i].taken = occasions[i];
    tell_visits(times, occasions);
  }

  /// "After" and "after 2nd drench" of one animal are two samples, of which one is the test's.
  void ask_for_words(const std::vector<Sample>& samples, const std::vector<PlacedTime>& times,
                     const std::vector<std::optional<SampleTime>>& occasions) const {
    std::map<std::tuple<std::string, std::string, SampleTime>, std::set<std::string>> words_of;
    for (std::size_t i = 0; i < samples.size(); ++i)
      if (occasions[i]) {
        auto& words = words_of[{samples[i].group, samples[i].tag.text, *occasions[i]}];
        words.insert(look_of(samples[i].time.text));
        if (words.size() > 1)
          ask_for_times(times, order_, source_);
      }
  }

  /// A day after treatment that is told and cannot be kept would leave a fall on a wrong day
  /// looking sound.
  void refuse_lost_day(const std::vector<Sample>& samples, const ColumnReading& when,
                       const std::vector<PlacedTime>& times,
                       const std::vector<std::optional<SampleTime>>& occasions) const {
    if (const auto unsaid = time_of_unsaid_unit(times, occasions))
      throw InputError({Problem{source_, times[*unsaid].line, when.index + 1, when.head,
                                in_quotes(samples[*unsaid].time.text) +
                                    ", and nothing says whether it is of days or of weeks",
                                "a head of the column that says so, such as Day or Week"}});
    const std::vector<int> apart = days_apart_without_year(times, occasions, layout_.dates);
    if (reading_.tells("date_treated") ? !apart.empty()
                                       : !std::ranges::all_of(apart, is_usual_time_apart))
      throw InputError(
          {Problem{source_, times.front().line, when.index + 1, when.head,
                   fmt::format("dates without their year, {} days apart", apart.front()),
                   "the year too (such as 3/5/2031), from which the days are counted"}});
  }

  /// Whether a date tells on which day a sample after treatment was taken. A column for dates whose
  /// cells are empty there does not, and the day that is told must not be lost with it.
  bool has_date_after(const std::vector<Sample>& samples,
                      const std::vector<std::optional<SampleTime>>& occasions) const {
    if (reading_.tells("date_after"))
      return true;
    const ColumnReading* const date = reading_.attribute("date");
    for (std::size_t i = 0; date != nullptr && i < samples.size(); ++i)
      if (occasions[i] && occasions[i]->occasion == Occasion::after &&
          !trimmed(samples[i].row->cell(date->index)).empty())
        return true;
    return false;
  }

  bool has_worms() const {
    return std::ranges::any_of(reading_.counts(),
                               [](const ColumnReading* column) { return !column->worm.empty(); });
  }

  /// Eggs told apart have one sample after treatment alone.
  void tell_visits(const std::vector<PlacedTime>& times,
                   const std::vector<std::optional<SampleTime>>& occasions) {
    const std::string visits = visits_told(times, occasions);
    if (visits.empty())
      return;
    if (has_worms() && are_of_several_days(occasions))
      ask_for_times(times, order_, source_);
    own_.tell(fmt::format("{}: {}", source_.shown(), visits));
  }

  std::optional<std::chrono::sys_days> day_of(const WrittenDate& date) const {
    const auto day = in_order(date, order_);
    return day ? std::optional(std::chrono::sys_days(*day)) : std::nullopt;
  }

  void settle_dates(std::vector<Sample>& samples, const ColumnReading& when) {
    std::map<AnimalKey, std::set<std::chrono::sys_days>> days_of;
    for (const Sample& sample : samples)
      if (const auto day = day_of(*sample.time.date))
        days_of[sample.animal()].insert(*day);
    struct Ends {
      std::set<std::chrono::sys_days> firsts;
      std::set<std::chrono::sys_days> lasts;

      bool are_apart() const { return !firsts.empty() && *firsts.rbegin() < *lasts.begin(); }
    };
    std::map<std::string, Ends> ends_of; // each trial has days of its own
    for (const auto& [animal, days] : days_of) {
      Ends& ends = ends_of[animal[0]];
      if (days.size() == 2) {
        ends.firsts.insert(*days.begin());
        ends.lasts.insert(*days.rbegin());
      }
    }
    if (visits_since_treatment(samples, when))
      return;
    const bool too_many =
        std::ranges::any_of(days_of, [](const auto& animal) { return animal.second.size() > 2; });
    const bool apart =
        std::ranges::all_of(ends_of, [](const auto& trial) { return trial.second.are_apart(); });
    if (too_many || !apart)
      ask_for_days(samples, when);
    for (Sample& sample : samples)
      if (const auto day = day_of(*sample.time.date)) {
        const Ends& ends = ends_of[sample.trial];
        if (*day <= *ends.firsts.rbegin())
          sample.taken = SampleTime{Occasion::before, 0};
        else if (*day >= *ends.lasts.begin())
          sample.taken = SampleTime{Occasion::after, 0};
        else
          ask_for_days(samples, when);
      }
  }

  /// Where rows tell the date of treatment, each animal has one sample up to it and any has several
  /// later, these are visits; false, and nothing done, otherwise.
  bool visits_since_treatment(std::vector<Sample>& samples, const ColumnReading& when) {
    const ColumnReading* const treated = reading_.attribute("date_treated");
    if (treated == nullptr)
      return false;
    std::map<AnimalKey, std::chrono::sys_days> treated_on;
    for (const Sample& sample : samples)
      if (const auto date = written_date(sample.row->cell(treated->index), layout_.words()))
        if (const auto day = day_of(*date)) {
          const auto [found, fresh] = treated_on.emplace(sample.animal(), *day);
          if (!fresh && found->second != *day)
            return false;
        }
    std::map<AnimalKey, std::set<std::chrono::sys_days>> before;
    std::vector<PlacedTime> times;
    std::vector<std::optional<SampleTime>> taken;
    std::set<int> visits;
    for (const Sample& sample : samples) {
      const AnimalKey animal = sample.animal();
      const auto found = treated_on.find(animal);
      const auto day = day_of(*sample.time.date);
      if (found == treated_on.end() || !day)
        return false;
      const auto days = (*day - found->second).count();
      if (days > latest_visit_day)
        return false;
      if (days <= 0 && before[animal].insert(*day).second && before[animal].size() > 1)
        return false;
      taken.push_back(days <= 0 ? SampleTime{Occasion::before, 0}
                                : SampleTime{Occasion::after, static_cast<int>(days)});
      if (days > 0)
        visits.insert(static_cast<int>(days));
      times.push_back({sample.time, sample.row->row->line, when.index + 1});
    }
    if (visits.size() < 2)
      return false;
    for (std::size_t i = 0; i < samples.size(); ++i)
      samples[i].taken = taken[i];
    own_.tell(fmt::format("{}: the days of visits are counted from {}", source_.shown(),
                          in_quotes(treated->head)));
    tell_visits(times, taken);
    return true;
  }

  [[noreturn]] void ask_for_days(const std::vector<Sample>& samples, const ColumnReading& when) {
    std::map<std::chrono::sys_days, std::string> days;
    for (const Sample& sample : samples)
      if (const auto day = day_of(*sample.time.date))
        days.emplace(*day, sample.time.text);
    std::vector<std::string> names;
    std::vector<std::chrono::sys_days> in_time;
    for (const auto& [day, text] : days) {
      names.push_back(text);
      in_time.push_back(day);
    }
    if (names.size() < 2)
      throw InputError({Problem{source_, samples.front().row->row->line, when.index + 1, when.head,
                                "one time of sampling, " + in_quotes(names.front()),
                                "samples before treatment and after"}});
    const auto [before, after] = likeliest_days(in_time);
    throw OpenQuestion(
        {source_,
         samples.front().row->row->line,
         when.index + 1,
         when.head,
         fmt::format("{} days of sampling, {}", names.size(), quoted_list(names, 12)),
         {}},
        {{{{"day-before", days.at(before)}, {"day-after", days.at(after)}}, "or others of them"},
         answer_by_treatment()});
  }

  std::string times_told(const std::vector<Sample>& samples) const {
    std::map<std::optional<SampleTime>, std::vector<std::string>> names;
    for (const Sample& sample : samples) {
      auto& list = names[sample.taken];
      if (std::ranges::find(list, sample.time.text) == list.end())
        list.push_back(sample.time.text);
    }
    std::string told;
    for (const auto& [taken, list] : names)
      told += fmt::format("{}{} {}", told.empty() ? "" : ", ", quoted_list(list, 6),
                          taken ? fmt::format("= {}", to_string(*taken)) : "not used");
    return told;
  }

  void put(const Sample& sample, const std::vector<KeyedColumn>& counts, RawAnimal& animal) {
    bool again = false;
    for (const KeyedColumn& each : counts) {
      RawCount count = count_in(*sample.row, each);
      CountKey key = each.key;
      key.time = *sample.taken;
      const auto [place, first] = animal.counts.emplace(std::move(key), count);
      if (!first && !count.cell.text.empty() && !place->second.cell.text.empty()) {
        again = true;
        problems_.add(count.cell.problem(
            fmt::format("a second sample of {} {} (the first is on {})", in_quotes(sample.tag.text),
                        sample.taken->day > 0
                            ? fmt::format("on day {}", sample.taken->day)
                            : fmt::format("{} treatment", to_string(sample.taken->occasion)),
                        source_.line(place->second.cell.line)),
            "one (put counts of one sample side by side, in columns eggs_before_1, "
            "eggs_before_2; of two trials, a column trial, farm or year that tells them apart)"));
      } else if (!first && place->second.cell.text.empty()) {
        place->second = std::move(count);
      }
    }
    if (again)
      return; // what is known of another sample is no contradiction
    take_attributes(*sample.row, animal, sample.taken);
    if (sample.time.date && sample.taken->day == 0) {
      RawCell day{sample.time.text, source_, sample.row->row->line, 0, {}};
      animal.attributes.emplace(fmt::format("date_{}", to_string(*sample.taken)), std::move(day));
    }
  }

  // What was understood.

  /// Words of other languages than English.
  void tell_words_from_memory() {
    std::vector<std::string> words;
    for (const ColumnReading& column : reading_.columns)
      if (column.kind != Kind::unused && !column.by_layout)
        for (const HeadPiece& piece : layout_.words().pieces_of(column.head))
          if (piece.means && layout_.words().from_memory(piece.text) &&
              std::ranges::find(words, piece.text) == words.end())
            words.push_back(piece.text);
    constexpr std::size_t most_listed = 12;
    if (!words.empty())
      own_.tell(fmt::format("{}: the meanings of these heads were written down from memory (check "
                            "them): {}",
                            source_.shown(), quoted_list(words, most_listed)));
  }

  /// " (is tag meant?)" of a head that is not known, but nearly; empty otherwise.
  std::string meant_by(const ColumnReading& column) const {
    const std::vector<std::string> near = column.kind == Kind::unused
                                              ? layout_.words().nearest_heads(column.head)
                                              : std::vector<std::string>();
    return is_meant({near.begin(), near.end()});
  }

  void tell() {
    std::string taken;
    Wording left;
    bool any_left = false;
    for (const ColumnReading& column : reading_.columns) {
      if (column.head.empty())
        continue;
      const auto count = count_names_.find(column.index);
      const bool is_group = column.name == "group";
      if (column.kind == Kind::unused || (!used_.contains(column.index) && !is_group)) {
        if (std::ranges::find(told_.begin(), told_.end(), column.index) == told_.end()) {
          left += (any_left ? ", " : "") + in_quotes(column.head);
          left += column.why.text().empty() ? Wording(meant_by(column)) : " (" + column.why + ")";
          any_left = true;
        }
        continue;
      }
      told_.push_back(column.index);
      taken +=
          fmt::format("{}{} = {}", taken.empty() ? "" : ", ", in_quotes(column.head),
                      count != count_names_.end() ? count->second : our_name(column, std::nullopt));
    }
    log_.tell(fmt::format("{}: header on {}: {}", source_.shown(),
                          source_.line(reading_.header_line), taken));
    tell_words_from_memory();
    if (any_left)
      own_.tell(fmt::format("{}: not used: ", source_.shown()) + left);
    if (!result_.has_tags)
      own_.tell(fmt::format("{}: no column names animals: they are called by their rows",
                            source_.shown()));
    if (groups_.filled_down() > 0)
      own_.tell(fmt::format("{}: {} rows without a group are taken for the group above them",
                            source_.shown(), groups_.filled_down()));
    if (tags_filled_down_ > 0)
      own_.tell(fmt::format("{}: {} rows without an animal are taken for the animal above them",
                            source_.shown(), tags_filled_down_));
    log_.append(own_);
  }

  const SheetReading& reading_;
  const Layout& layout_;
  std::optional<DateOrder> order_;
  Problems& problems_;
  ReadingLog& log_;
  ReadingLog own_; ///< Told behind the header, which is known last.
  GroupNames groups_;
  SameAnimal same_;
  const Source& source_;
  SheetAnimals result_;
  std::set<std::size_t> used_; ///< Columns that were read.
  std::vector<std::size_t> told_;
  std::map<std::size_t, std::string> count_names_;
  std::size_t tags_filled_down_ = 0;
};

} // namespace

SheetAnimals animals_of(const SheetReading& reading, const Layout& layout,
                        std::optional<DateOrder> order, Problems& problems, ReadingLog& log) {
  return Folder(reading, layout, order, problems, log).fold();
}

} // namespace eggfall
