#include "intake/raw_animals.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "intake/count_cell.hpp"
#include "intake/group_names.hpp"
#include "intake/open_question.hpp"
#include "intake/time_point.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

namespace eggfall {
namespace {

using Kind = ColumnReading::Kind;

/// The columns of one group where groups stand side by side; of a plain table, of all.
struct Block {
  std::string label;
  std::vector<const ColumnReading*> counts;
  std::vector<Occasion> occasions; ///< As counts.
  const ColumnReading* tag = nullptr;
};

/// Names that belong to an animal or a sample and not to the table's columns of one group alone.
bool is_day_of_sample(std::string_view name) {
  return name == "date";
}

class Folder {
public:
  Folder(const SheetReading& reading, const Layout& layout, std::optional<DateOrder> order,
         Problems& problems, ReadingLog& log)
      : reading_(reading), layout_(layout), order_(order), problems_(problems), log_(log),
        groups_(reading, own_), source_(reading.sheet->source) {
    result_.source = source_;
    result_.around = reading.around;
    result_.has_tags = reading.attribute("animal") != nullptr;
    result_.has_groups = groups_.are_told();
  }

  SheetAnimals fold() {
    const std::vector<const ColumnReading*> counts = reading_.counts();
    const bool timed = std::ranges::any_of(
        counts, [](const ColumnReading* column) { return column->time.operator bool(); });
    if (reading_.when() != nullptr && !timed)
      fold_by(*reading_.when());
    else if (!timed && days_repeat())
      fold_by(*reading_.attribute("date"));
    else if (timed)
      take_timed(counts);
    else
      take_one_time(counts);
    tell();
    return std::move(result_);
  }

private:
  /// One that a sheet shows an error in is a problem, and empty.
  RawCell cell(const SampleRow& row, const ColumnReading& column) const {
    RawCell at{std::string(row.cell(column.index)), source_, row.row->line, column.index + 1,
               column.head};
    for (const UnreadableCell& each : row.row->unreadable)
      if (each.column == column.index) {
        problems_.add(at.problem(each.found, each.expected));
        at.text.clear();
      }
    return at;
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

  /// Of one animal apart from another of its name in another group.
  std::string tag_text(const SampleRow& row, const ColumnReading& tag) const {
    const ColumnReading* const group = reading_.attribute("group");
    return fmt::format("{}\n{}", group != nullptr ? row.cell(group->index) : "",
                       row.cell(tag.index));
  }

  // A table with columns before and after.

  void take_timed(const std::vector<const ColumnReading*>& counts) {
    std::vector<PlacedTime> times;
    std::vector<const ColumnReading*> timed;
    for (const ColumnReading* column : counts)
      if (column->time) {
        times.push_back({column->time, reading_.header_line, column->index + 1});
        timed.push_back(column);
      }
    name_the_first(counts, times, timed);
    const auto occasions = occasions_of(times, layout_, order_, source_);
    Block all;
    for (std::size_t i = 0; i < timed.size(); ++i)
      if (occasions[i] && !is_of_one_time(timed, occasions, i)) {
        all.counts.push_back(timed[i]);
        all.occasions.push_back(*occasions[i]);
        occasion_of_.emplace(timed[i]->index, *occasions[i]);
        used_.insert(timed[i]->index);
      }
    all = eggs_rather_than_epg(all);
    const std::vector<Block> blocks = in_blocks(all);
    for (const Block& block : blocks)
      tell_columns(block);
    for (const SampleRow& row : reading_.rows) {
      const std::string group = groups_.of(row);
      for (const Block& block : blocks)
        take_row(row, block, blocks.size() > 1 ? block.label : group);
    }
    if (blocks.size() > 1)
      result_.has_groups = true;
  }

  /// "EPG" beside "EPG 2" is the first.
  void name_the_first(const std::vector<const ColumnReading*>& counts,
                      std::vector<PlacedTime>& times,
                      std::vector<const ColumnReading*>& timed) const {
    const bool places_alone = std::ranges::all_of(times, [](const PlacedTime& each) {
      return each.time.place && *each.time.place > 1 && !each.time.occasion && !each.time.day;
    });
    if (!places_alone)
      return;
    for (const ColumnReading* column : counts)
      if (!column->time) {
        PlacedTime first{{}, reading_.header_line, column->index + 1};
        first.time.text = column->head;
        first.time.place = 1;
        times.push_back(std::move(first));
        timed.push_back(column);
      }
  }

  /// A worm that was told apart at one time alone cannot be compared.
  bool is_of_one_time(const std::vector<const ColumnReading*>& timed,
                      const std::vector<std::optional<Occasion>>& occasions, std::size_t at) {
    if (timed[at]->worm.empty())
      return false;
    for (std::size_t i = 0; i < timed.size(); ++i)
      if (timed[i]->worm == timed[at]->worm && occasions[i] && occasions[i] != occasions[at])
        return false;
    own_.tell(fmt::format("{}: {} is not used: {} was told apart at one time alone",
                          source_.shown(), in_quotes(timed[at]->head), timed[at]->worm));
    return true;
  }

  /// Where both stand side by side for one sample, the eggs are what was seen. One egg must stand
  /// for the same EPG in each row.
  Block eggs_rather_than_epg(const Block& all) {
    const auto twin_in_eggs = [&](std::size_t of) -> const ColumnReading* {
      for (std::size_t i = 0; i < all.counts.size(); ++i)
        if (i != of && all.counts[i]->unit == CountUnit::eggs &&
            all.counts[of]->unit == CountUnit::epg && all.occasions[i] == all.occasions[of] &&
            all.counts[i]->worm == all.counts[of]->worm &&
            all.counts[i]->repeat == all.counts[of]->repeat &&
            lower_case(all.counts[i]->label) == lower_case(all.counts[of]->label))
          return all.counts[i];
      return nullptr;
    };
    Block kept;
    std::vector<std::string> heads;
    for (std::size_t i = 0; i < all.counts.size(); ++i)
      if (const ColumnReading* const eggs = twin_in_eggs(i)) {
        check_twins(*eggs, *all.counts[i]);
        heads.push_back(all.counts[i]->head);
        used_.erase(all.counts[i]->index);
      } else {
        kept.counts.push_back(all.counts[i]);
        kept.occasions.push_back(all.occasions[i]);
      }
    if (!heads.empty())
      own_.tell(fmt::format("{}: the eggs seen are read, and not the EPG beside them ({})",
                            source_.shown(), quoted_list(heads, 8)));
    return kept;
  }

  void check_twins(const ColumnReading& eggs, const ColumnReading& epg) const {
    constexpr double rounding = 0.02;
    std::optional<double> of_one_egg;
    for (const SampleRow& row : reading_.rows) {
      const auto seen = number_in(row, eggs);
      const auto per_gram = number_in(row, epg);
      if (!seen && per_gram && row.cell(eggs.index).empty())
        ask_for_twin(row, eggs, epg, {}); // or the count would be lost
      if (!seen || !per_gram)
        continue;
      const double step = *seen > 0 ? *per_gram / *seen : 0;
      if (*seen > 0 && !of_one_egg)
        of_one_egg = step;
      const bool fits = *seen > 0
                            ? std::abs(step - *of_one_egg) <= rounding * *of_one_egg + 0.51 / *seen
                            : *per_gram == 0;
      if (!fits)
        ask_for_twin(row, eggs, epg, of_one_egg);
    }
  }

  /// A count as it is written: that of a word for no egg is 0, that of "<50" is not known.
  std::optional<double> number_in(const SampleRow& row, const ColumnReading& column) const {
    const CountCell count = read_count_cell(row.cell(column.index), layout_);
    if (count.says == CountCell::Says::none_seen)
      return 0;
    if (count.says != CountCell::Says::number)
      return std::nullopt;
    return column.unit == CountUnit::epg && count.thousands ? count.thousands : count.value;
  }

  [[noreturn]] void ask_for_twin(const SampleRow& row, const ColumnReading& eggs,
                                 const ColumnReading& epg, std::optional<double> of_one_egg) const {
    const std::string_view seen = row.cell(eggs.index);
    std::string found = fmt::format("{} EPG beside {} eggs", row.cell(epg.index),
                                    seen.empty() ? "no number of" : seen);
    if (of_one_egg)
      found += fmt::format(", where one egg stood for {:g} EPG in rows above", *of_one_egg);
    throw OpenQuestion(cell(row, epg).problem(std::move(found), {}),
                       {answer("column", named(eggs), "read the eggs, and so at both times"),
                        answer("column", named(epg), "read the EPG, and so at both times")});
  }

  /// "epg_before=Pre EPG", for an answer.
  std::string named(const ColumnReading& column) const {
    std::optional<Occasion> occasion;
    if (!result_.time_is_open)
      occasion = occasion_of_.at(column.index);
    return our_name(column, occasion) + '=' + column.head;
  }

  /// Columns of one kind more than once are those of groups side by side.
  std::vector<Block> in_blocks(const Block& all) {
    std::vector<CountKey> keys;
    const ColumnReading* twin = nullptr;
    const ColumnReading* of_twin = nullptr;
    for (std::size_t i = 0; i < all.counts.size(); ++i) {
      const CountKey key = key_of(*all.counts[i], all.occasions[i]);
      const auto at = std::ranges::find(keys, key);
      if (at != keys.end() && twin == nullptr) {
        twin = all.counts[i];
        of_twin = all.counts[static_cast<std::size_t>(at - keys.begin())];
      }
      keys.push_back(key);
    }
    Block whole = all;
    whole.tag = reading_.attribute("animal");
    if (twin == nullptr)
      return {std::move(whole)};
    if (result_.has_groups || lower_case(twin->label) == lower_case(of_twin->label))
      ask_which(*of_twin, *twin);
    std::vector<Block> blocks;
    for (std::size_t i = 0; i < all.counts.size(); ++i) {
      const std::string label =
          all.counts[i]->label.empty() ? std::string(only_group) : all.counts[i]->label;
      auto at = std::ranges::find_if(
          blocks, [&](const Block& block) { return lower_case(block.label) == lower_case(label); });
      if (at == blocks.end()) {
        at = blocks.insert(blocks.end(), Block{label, {}, {}, nullptr});
        at->tag = tag_left_of(all.counts[i]->index);
      }
      at->counts.push_back(all.counts[i]);
      at->occasions.push_back(all.occasions[i]);
    }
    std::vector<std::string> labels;
    for (const Block& block : blocks)
      labels.push_back(block.label);
    own_.tell(
        fmt::format("{}: groups stand side by side: {}", source_.shown(), quoted_list(labels, 12)));
    return blocks;
  }

  /// An answer names the unit of its column, so that of one which does not say both are offered.
  /// Where the time of the sheet is still open, none names it, or the counts after treatment could
  /// become those before.
  [[noreturn]] void ask_which(const ColumnReading& one, const ColumnReading& other) const {
    std::vector<LayoutAnswer> answers;
    for (ColumnReading column : {one, other})
      for (const CountUnit unit : {CountUnit::epg, CountUnit::eggs}) {
        if (column.unit.value_or(unit) != unit)
          continue;
        ColumnReading said = column;
        said.unit = unit;
        answers.push_back(answer("column", named(said),
                                 answers.empty() ? "and so each that is wanted" : std::string()));
      }
    throw OpenQuestion({source_,
                        reading_.header_line,
                        other.index + 1,
                        other.head,
                        fmt::format("two columns for counts{}, this and {}", time_told(other),
                                    in_quotes(one.head)),
                        {}},
                       std::move(answers));
  }

  /// " before treatment"; nothing where the time is open.
  std::string time_told(const ColumnReading& column) const {
    return result_.time_is_open
               ? std::string()
               : fmt::format(" {} treatment", to_string(occasion_of_.at(column.index)));
  }

  const ColumnReading* tag_left_of(std::size_t index) const {
    const ColumnReading* tag = nullptr;
    for (const ColumnReading& column : reading_.columns)
      if (column.kind == Kind::attribute && column.name == "animal" &&
          (column.index < index || tag == nullptr))
        tag = &column;
    return tag;
  }

  static CountKey key_of(const ColumnReading& column, Occasion occasion) {
    return {occasion, column.worm, column.repeat};
  }

  void take_row(const SampleRow& row, const Block& block, const std::string& group) {
    RawAnimal animal;
    animal.group = group;
    animal.tag = tag_of(row, block.tag);
    bool any = false;
    for (std::size_t i = 0; i < block.counts.size(); ++i) {
      const ColumnReading& column = *block.counts[i];
      RawCell at = cell(row, column);
      any = any || !at.text.empty();
      animal.counts[key_of(column, block.occasions[i])] = {std::move(at), column.unit};
      result_.occasions.insert(block.occasions[i]);
    }
    // Groups side by side may have different numbers of animals.
    if (!block.label.empty() && !any &&
        (block.tag == nullptr || row.cell(block.tag->index).empty()))
      return;
    take_attributes(row, animal,
                    result_.occasions.size() == 1 ? std::optional(*result_.occasions.begin())
                                                  : std::nullopt);
    result_.animals.push_back(std::move(animal));
  }

  RawCell tag_of(const SampleRow& row, const ColumnReading* column) {
    if (column == nullptr)
      return {source_.line(row.row->line), source_, row.row->line, 0, {}};
    used_.insert(column->index);
    return cell(row, *column);
  }

  void take_attributes(const SampleRow& row, RawAnimal& animal, std::optional<Occasion> of_sample) {
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
        name = fmt::format("date_{}", to_string(of_sample.value_or(Occasion::before)));
      } else if (name == "factor" && of_sample) {
        name = fmt::format("factor_{}", to_string(*of_sample));
      }
      used_.insert(column.index);
      if (RawCell at = cell(row, column); !at.text.empty())
        animal.attributes.emplace(name, std::move(at));
    }
  }

  // A table with counts of one time.

  void take_one_time(const std::vector<const ColumnReading*>& counts) {
    result_.time_is_open = true;
    Block all;
    for (const ColumnReading* column : counts) {
      all.counts.push_back(column);
      all.occasions.push_back(Occasion::before);
      used_.insert(column->index);
    }
    all = eggs_rather_than_epg(all);
    const std::vector<Block> blocks = in_blocks(all);
    result_.occasions.insert(Occasion::before);
    for (const SampleRow& row : reading_.rows) {
      const std::string group = groups_.of(row);
      for (const Block& block : blocks)
        take_row(row, block, blocks.size() > 1 ? block.label : group);
    }
  }

  // A table with one row a sample.

  struct Sample {
    const SampleRow* row;
    std::string group;
    RawCell tag;
    TimePoint time;
    std::optional<Occasion> occasion;
  };

  void fold_by(const ColumnReading& when) {
    used_.insert(when.index);
    std::vector<Sample> samples;
    const ColumnReading* const tag = reading_.attribute("animal");
    RawCell last_tag;
    const bool merged = tag != nullptr && is_merged(reading_, *tag);
    for (const SampleRow& row : reading_.rows) {
      Sample sample{&row, groups_.of(row), tag_of(row, tag), {}, {}};
      // Merged cells: an animal's name stands in the first of its rows.
      if (merged && sample.tag.text.empty() && !last_tag.text.empty()) {
        sample.tag.text = last_tag.text;
        ++tags_filled_down_;
      }
      last_tag = sample.tag;
      const RawCell at = cell(row, when);
      sample.time = time_point_of_cell(at.text, layout_.words());
      if (!sample.time) {
        problems_.add(at.problem(at.text.empty() ? "nothing" : in_quotes(at.text),
                                 "before or after, a day from treatment, or a date"));
        continue;
      }
      samples.push_back(std::move(sample));
    }
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
    if (samples.empty()) // each was a problem
      return;
    settle_times(samples, when);
    own_.tell(fmt::format("{}: one row a sample, folded by {} at the times under {}: {}",
                          source_.shown(), in_quotes(tag->head), in_quotes(when.head),
                          times_told(samples)));
    std::map<std::pair<std::string, std::string>, std::size_t> index_of;
    const std::vector<const ColumnReading*> counts = reading_.counts();
    for (const ColumnReading* column : counts)
      used_.insert(column->index);
    for (const Sample& sample : samples)
      if (sample.occasion)
        put(sample, counts, index_of);
  }

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
    const auto occasions = occasions_of(times, layout_, order_, source_);
    for (std::size_t i = 0; i < samples.size(); ++i)
      samples[i].occasion = occasions[i];
  }

  std::optional<std::chrono::sys_days> day_of(const WrittenDate& date) const {
    const auto day = in_order(date, order_);
    return day ? std::optional(std::chrono::sys_days(*day)) : std::nullopt;
  }

  void settle_dates(std::vector<Sample>& samples, const ColumnReading& when) {
    std::map<std::pair<std::string, std::string>, std::set<std::chrono::sys_days>> days_of;
    for (const Sample& sample : samples)
      if (const auto day = day_of(*sample.time.date))
        days_of[{sample.group, sample.tag.text}].insert(*day);
    std::set<std::chrono::sys_days> firsts;
    std::set<std::chrono::sys_days> lasts;
    for (const auto& [animal, days] : days_of)
      if (days.size() == 2) {
        firsts.insert(*days.begin());
        lasts.insert(*days.rbegin());
      }
    const bool too_many =
        std::ranges::any_of(days_of, [](const auto& animal) { return animal.second.size() > 2; });
    const bool apart = !firsts.empty() && *firsts.rbegin() < *lasts.begin();
    if (too_many || !apart)
      ask_for_days(samples, when);
    for (Sample& sample : samples)
      if (const auto day = day_of(*sample.time.date)) {
        if (*day <= *firsts.rbegin())
          sample.occasion = Occasion::before;
        else if (*day >= *lasts.begin())
          sample.occasion = Occasion::after;
        else
          ask_for_days(samples, when);
      }
  }

  [[noreturn]] void ask_for_days(const std::vector<Sample>& samples, const ColumnReading& when) {
    std::map<std::chrono::sys_days, std::string> days;
    for (const Sample& sample : samples)
      if (const auto day = day_of(*sample.time.date))
        days.emplace(*day, sample.time.text);
    std::vector<std::string> names;
    for (const auto& [day, text] : days)
      names.push_back(text);
    if (names.size() < 2)
      throw InputError({Problem{source_, samples.front().row->row->line, when.index + 1, when.head,
                                "one time of sampling, " + in_quotes(names.front()),
                                "samples before treatment and after"}});
    throw OpenQuestion(
        {source_,
         samples.front().row->row->line,
         when.index + 1,
         when.head,
         fmt::format("{} days of sampling, {}", names.size(), quoted_list(names, 12)),
         {}},
        {{{{"day-before", names[0]}, {"day-after", names[1]}}, "or others of them"}});
  }

  std::string times_told(const std::vector<Sample>& samples) const {
    std::map<std::optional<Occasion>, std::vector<std::string>> names;
    for (const Sample& sample : samples) {
      auto& list = names[sample.occasion];
      if (std::ranges::find(list, sample.time.text) == list.end())
        list.push_back(sample.time.text);
    }
    std::string told;
    for (const auto& [occasion, list] : names)
      told += fmt::format("{}{} {}", told.empty() ? "" : ", ", quoted_list(list, 6),
                          occasion ? fmt::format("= {}", to_string(*occasion)) : "not used");
    return told;
  }

  void put(const Sample& sample, const std::vector<const ColumnReading*>& counts,
           std::map<std::pair<std::string, std::string>, std::size_t>& index_of) {
    result_.occasions.insert(*sample.occasion);
    const auto [at, fresh] =
        index_of.emplace(std::pair{sample.group, sample.tag.text}, result_.animals.size());
    if (fresh) {
      result_.animals.emplace_back();
      result_.animals.back().group = sample.group;
      result_.animals.back().tag = sample.tag;
    }
    RawAnimal& animal = result_.animals[at->second];
    for (const ColumnReading* column : counts) {
      RawCell count = cell(*sample.row, *column);
      const auto [place, first] =
          animal.counts.emplace(key_of(*column, *sample.occasion), RawCount{count, column->unit});
      if (!first && !count.text.empty() && !place->second.cell.text.empty())
        problems_.add(
            count.problem(fmt::format("a second sample of {} {} treatment (the first is on {})",
                                      in_quotes(sample.tag.text), to_string(*sample.occasion),
                                      source_.line(place->second.cell.line)),
                          "one (put counts of one sample side by side, in columns eggs_before_1, "
                          "eggs_before_2)"));
      else if (!first && place->second.cell.text.empty())
        place->second.cell = std::move(count);
    }
    take_attributes(*sample.row, animal, sample.occasion);
    if (sample.time.date) {
      RawCell day{sample.time.text, source_, sample.row->row->line, 0, {}};
      animal.attributes.emplace(fmt::format("date_{}", to_string(*sample.occasion)),
                                std::move(day));
    }
  }

  // What was understood.

  void tell_columns(const Block& block) {
    for (std::size_t i = 0; i < block.counts.size(); ++i)
      count_names_[block.counts[i]->index] = our_name(*block.counts[i], block.occasions[i]);
  }

  void tell() {
    std::string taken;
    std::string left;
    for (const ColumnReading& column : reading_.columns) {
      if (column.head.empty())
        continue;
      const auto count = count_names_.find(column.index);
      const bool is_group = column.name == "group" || column.kind == Kind::when;
      if (column.kind == Kind::unused || (!used_.contains(column.index) && !is_group)) {
        if (std::ranges::find(told_.begin(), told_.end(), column.index) == told_.end())
          left += (left.empty() ? "" : ", ") + in_quotes(column.head);
        continue;
      }
      told_.push_back(column.index);
      taken +=
          fmt::format("{}{} = {}", taken.empty() ? "" : ", ", in_quotes(column.head),
                      count != count_names_.end() ? count->second : our_name(column, std::nullopt));
    }
    log_.tell(fmt::format("{}: header on {}: {}", source_.shown(),
                          source_.line(reading_.header_line), taken));
    if (!left.empty())
      own_.tell(fmt::format("{}: not used: {}", source_.shown(), left));
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
  const Source& source_;
  SheetAnimals result_;
  std::map<std::size_t, Occasion> occasion_of_; ///< Of each column of counts with a time.
  std::set<std::size_t> used_;                  ///< Columns that were read.
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
