#include "intake/fill_rows.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/group_names.hpp"
#include "intake/same_animal.hpp"
#include "intake/untreated_groups.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

using Lines = std::vector<std::string>;

class RowFiller {
public:
  RowFiller(SheetReading& reading, const Layout& layout, Problems& problems, ReadingLog& log)
      : reading_(reading), words_(layout.words()), problems_(problems), log_(log) {
    for (const std::string_view name : trial_marks)
      if (const ColumnReading* const column = reading_.attribute(name))
        marks_.push_back(column);
    group_ = reading_.attribute("group");
  }

  void fill() {
    for (const ColumnReading* mark : marks_)
      if (is_merged(reading_, *mark))
        fill_down({mark});
    fill_blocks();
    const ColumnReading* const tag = reading_.attribute("animal");
    const ColumnReading* const when =
        reading_.when() != nullptr ? reading_.when() : reading_.attribute("date");
    const bool timed = std::ranges::any_of(reading_.counts(), [](const ColumnReading* column) {
      return column->time.operator bool();
    });
    if (tag == nullptr || when == nullptr || timed)
      return;
    gather_times(*tag, *when);
    fill_marks_by_animal();
    const ColumnReading* const drench =
        names_drenches(group_) ? group_ : reading_.attribute("drench");
    if (drench != nullptr)
      fill_by_animal(*drench, false);
    if (const ColumnReading* const role = reading_.attribute("role"))
      fill_by_animal(*role, true);
  }

private:
  static std::string cell_of(const SampleRow& row, const ColumnReading& column) {
    return std::string(row.cell(column.index));
  }

  /// A column of drenches may be the one of groups, if its owner says so.
  bool names_drenches(const ColumnReading* column) const {
    return column != nullptr && have_word(words_.pieces_of(column->head), HeadWord::drench);
  }

  // Written at the head of rows.

  /// One line for all columns that are filled in the same rows.
  void fill_down(const std::vector<const ColumnReading*>& columns) {
    Lines above;
    std::size_t filled = 0;
    for (SampleRow& row : reading_.rows) {
      if (!row.cell(columns.front()->index).empty()) {
        above.clear();
        for (const ColumnReading* column : columns)
          above.push_back(cell_of(row, *column));
        continue;
      }
      if (above.empty())
        continue;
      ++filled;
      for (std::size_t i = 0; i < columns.size(); ++i)
        row.filled[columns[i]->index] = above[i];
    }
    if (filled == 0)
      return;
    std::string heads;
    for (const ColumnReading* column : columns)
      heads += (heads.empty() ? "" : " and ") + in_quotes(column->head);
    log_.tell(fmt::format("{}: {} {} empty in {} rows, which are taken for those of the rows above",
                          reading_.sheet->source.shown(), heads, columns.size() == 1 ? "is" : "are",
                          filled));
  }

  /// "Alder, 2030" is a head that stands once, where "Alder" stands in three years.
  void fill_blocks() {
    std::vector<const ColumnReading*> open;
    for (const ColumnReading* mark : marks_)
      if (std::ranges::any_of(
              reading_.rows, [&](const SampleRow& row) { return row.cell(mark->index).empty(); }) &&
          reading_.tells(mark->name))
        open.push_back(mark);
    if (open.empty())
      return;
    std::set<Lines> heads;
    for (const SampleRow& row : reading_.rows) {
      const auto told = std::ranges::count_if(
          open, [&](const ColumnReading* column) { return !row.cell(column->index).empty(); });
      if (told == 0)
        continue;
      Lines head;
      for (const ColumnReading* mark : marks_)
        head.push_back(cell_of(row, *mark));
      if (static_cast<std::size_t>(told) != open.size() || !heads.insert(std::move(head)).second)
        return;
    }
    fill_down(open);
  }

  // One row a sample.

  /// The animal and the time of each row, its empty cells taken from above as the folding does.
  void gather_times(const ColumnReading& tag, const ColumnReading& when) {
    // Such a group is no other animal's: it is what may differ between the rows of one.
    const ColumnReading* const group = names_drenches(group_) ? nullptr : group_;
    const bool tags_merged = is_merged(reading_, tag);
    const bool groups_merged = group != nullptr && is_merged(reading_, *group);
    std::string last_tag;
    std::string last_group;
    for (const SampleRow& row : reading_.rows) {
      std::string own = cell_of(row, tag);
      std::string in = group != nullptr ? cell_of(row, *group) : std::string();
      if (own.empty() && tags_merged)
        own = last_tag;
      if (in.empty() && groups_merged)
        in = last_group;
      last_tag = own;
      last_group = in;
      animals_.push_back(own.empty() ? Lines() : Lines{std::move(own), std::move(in), row.section});
      times_.push_back(look_of(row.cell(when.index)));
    }
  }

  std::map<Lines, std::vector<std::size_t>> rows_of_animals(bool by_trial) const {
    std::map<Lines, std::vector<std::size_t>> rows;
    for (std::size_t i = 0; i < animals_.size(); ++i) {
      if (animals_[i].empty())
        continue;
      Lines key = animals_[i];
      if (by_trial)
        for (const ColumnReading* mark : marks_)
          key.push_back(look_of(reading_.rows[i].cell(mark->index)));
      rows[std::move(key)].push_back(i);
    }
    return rows;
  }

  void fill_marks_by_animal() {
    for (const ColumnReading* mark : marks_) {
      std::size_t filled = 0;
      for (const auto& [animal, rows] : rows_of_animals(false)) {
        std::map<std::string, std::string> said;
        for (const std::size_t i : rows)
          if (const std::string text = cell_of(reading_.rows[i], *mark); !text.empty())
            said.emplace(look_of(text), text);
        if (said.size() != 1)
          continue;
        for (const std::size_t i : rows)
          if (reading_.rows[i].cell(mark->index).empty()) {
            reading_.rows[i].filled[mark->index] = said.begin()->second;
            ++filled;
          }
      }
      if (filled > 0)
        log_.tell(fmt::format("{}: {} is empty in {} rows, which are taken for that of another row "
                              "of the animal",
                              reading_.sheet->source.shown(), in_quotes(mark->head), filled));
    }
  }

  /// What the rows of an animal say, each with its times and its first row.
  struct Said {
    std::string text;
    std::size_t row = 0;
    std::set<std::string> times;
  };

  /// Whether two texts can be of one animal that was sampled at these times: never at the same, and
  /// one of them at one time alone. Two animals of one tag were sampled at the same times.
  static bool are_of_one(const Said& a, const Said& b) {
    return (a.times.size() == 1 || b.times.size() == 1) &&
           std::ranges::none_of(a.times, [&](const auto& time) { return b.times.contains(time); });
  }

  /// What a text means here; empty for nothing, which another row may fill.
  std::string meaning_of(const std::string& text, bool role) const {
    if (!role)
      return names_a_treatment(text, words_) ? look_of(text) : std::string();
    const auto means = role_called(text, words_);
    return means ? std::string(to_string(*means)) : look_of(text);
  }

  /// Of an animal.
  struct Column {
    std::string tag;
    std::vector<std::size_t> rows;
    std::map<std::string, Said> named;  ///< By what they mean.
    std::map<std::string, Said> silent; ///< By their texts.
  };

  std::vector<Column> said_under(const ColumnReading& column, bool role) const {
    const bool merged = is_merged(reading_, column);
    std::vector<Column> found;
    for (auto& [animal, rows] : rows_of_animals(true)) {
      Column said{animal.front(), rows, {}, {}};
      for (const std::size_t i : rows) {
        const std::string text = cell_of(reading_.rows[i], column);
        if (text.empty() && merged)
          continue; // of the rows above
        const std::string meaning = meaning_of(text, role);
        Said& here = meaning.empty() ? said.silent[text] : said.named[meaning];
        if (here.times.empty())
          here = {text, i, {}};
        here.times.insert(times_[i]);
      }
      found.push_back(std::move(said));
    }
    return found;
  }

  /// Where any tag has two entries at one time, tags are those of animals in several groups, and
  /// nothing tells which rows are of one animal.
  static bool tags_come_again(const std::vector<Column>& animals) {
    return std::ranges::any_of(animals, [](const Column& animal) {
      std::set<std::string> times;
      for (const auto* texts : {&animal.named, &animal.silent})
        for (const auto& [text, said] : *texts)
          for (const std::string& time : said.times)
            if (!times.insert(time).second)
              return true;
      return false;
    });
  }

  void fill_by_animal(const ColumnReading& column, bool role) {
    std::size_t filled = 0;
    std::string example;
    const std::vector<Column> animals = said_under(column, role);
    if (tags_come_again(animals))
      return;
    for (const Column& animal : animals) {
      if (animal.named.size() > 1) {
        refuse_two(column, role, animal);
        continue;
      }
      if (animal.named.size() != 1 || animal.silent.empty() ||
          !all_fit(animal.named.begin()->second, animal.silent))
        continue;
      const std::string& given = animal.named.begin()->second.text;
      for (const auto& [text, said] : animal.silent)
        for (const std::size_t i : animal.rows)
          if (reading_.rows[i].cell(column.index) == text)
            reading_.rows[i].filled[column.index] = given;
      const auto& [nothing, said] = *animal.silent.begin();
      if (++filled == 1)
        example =
            fmt::format("{} for {}, where {} says {}", in_quotes(given), in_quotes(animal.tag),
                        line_of(said), nothing.empty() ? "nothing" : in_quotes(nothing));
    }
    if (filled > 0)
      log_.tell(
          fmt::format("{}: {} of {} animal{} is told in rows of one time alone, and taken for "
                      "all of the animal's: {}",
                      reading_.sheet->source.shown(), in_quotes(column.head), filled,
                      filled == 1 ? "" : "s", example));
  }

  static bool all_fit(const Said& named, const std::map<std::string, Said>& silent) {
    Said whole;
    for (const auto& [text, said] : silent)
      whole.times.insert(said.times.begin(), said.times.end());
    return are_of_one(named, whole);
  }

  void refuse_two(const ColumnReading& column, bool role, const Column& animal) {
    for (auto a = animal.named.begin(); a != animal.named.end(); ++a)
      for (auto b = std::next(a); b != animal.named.end(); ++b) {
        if (!are_of_one(a->second, b->second))
          continue;
        const bool in_order = a->second.row < b->second.row;
        const Said& first = in_order ? a->second : b->second;
        const Said& second = in_order ? b->second : a->second;
        problems_.add(
            {reading_.sheet->source, reading_.rows[second.row].row->line, column.index + 1,
             column.head,
             fmt::format("{} for {}, and {} on {}", in_quotes(second.text), in_quotes(animal.tag),
                         in_quotes(first.text), line_of(first)),
             role ? "one role in all rows of an animal, \"treated\" too beside a sample before "
                    "treatment; of two animals, names that differ"
                  : "one drench in all rows of an animal; of two animals, names that differ"});
        return;
      }
  }

  std::string line_of(const Said& said) const {
    return reading_.sheet->source.line(reading_.rows[said.row].row->line);
  }

  SheetReading& reading_;
  const TableWords& words_;
  Problems& problems_;
  ReadingLog& log_;
  std::vector<const ColumnReading*> marks_;
  const ColumnReading* group_ = nullptr;
  std::vector<Lines> animals_;     ///< Of each row: its tag, group and section; empty: no tag.
  std::vector<std::string> times_; ///< Of each row.
};

} // namespace

void fill_rows(SheetReading& reading, const Layout& layout, Problems& problems, ReadingLog& log) {
  RowFiller(reading, layout, problems, log).fill();
}

} // namespace eggfall
