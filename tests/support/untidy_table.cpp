#include "support/untidy_table.hpp"

#include "base/date.hpp"
#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "eggfall/base/random_stream.hpp"
#include "support/made_ods.hpp"
#include "support/untidy_words.hpp"
#include "support/written_grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <random>
#include <utility>

namespace {

using namespace eggfall;

enum class Shape {
  row_an_animal,
  samples_by_word,
  samples_by_day,
  samples_by_date,
  beside_in_one_head,
  beside_in_two_heads,
  titles_above_rows,
  two_sheets,
  two_files,
  no_animal,
  no_group,
};

constexpr Names<Shape, 11> shape_names{{
    {Shape::row_an_animal, "one row an animal"},
    {Shape::samples_by_word, "one row a sample, told by words"},
    {Shape::samples_by_day, "one row a sample, told by days"},
    {Shape::samples_by_date, "one row a sample, told by dates"},
    {Shape::beside_in_one_head, "groups side by side, one row of heads"},
    {Shape::beside_in_two_heads, "groups side by side, two rows of heads"},
    {Shape::titles_above_rows, "groups as titles above their rows"},
    {Shape::two_sheets, "two sheets"},
    {Shape::two_files, "two files"},
    {Shape::no_animal, "no column of animals"},
    {Shape::no_group, "no column of groups"},
}};

enum class Said { in_heads, in_a_title, not_at_all };
enum class Dates { none, day_first, month_first, dots, by_name, iso, hyphens };
enum class ControlBy { option, role, drench };

constexpr std::array said_words{"in heads", "in a title", "nowhere"};
constexpr std::array date_words{"none",       "3/5/2031",   "5/3/2031", "03.05.31",
                                "3 May 2031", "2031-05-03", "3-May-31"};
constexpr std::array separator_words{",", ";", "\t"};

const Count* count_at(const Animal& animal, Occasion occasion) {
  const auto& count = occasion == Occasion::before ? animal.before : animal.after;
  return count ? &*count : nullptr;
}

class TableMaker {
public:
  TableMaker(std::uint64_t seed, std::uint32_t number) : stream_({seed, 0, number}) {
    shape_ = shape_names[number % shape_names.size()].first;
    draw_words();
    draw_trial();
    made_.options.host = "sheep";
    made_.options.trial_name = "lambs";
  }

  UntidyTable make() {
    write();
    finish_trial();
    ask();
    made_.combination = fmt::format(
        "{}; {}; factor {}; {}, said {}; dates {}{}; {}; words for cells {}", //
        name_of(shape_names, shape_, "a shape"), words_->language, factor_,
        in_epg_ ? "EPG" : "eggs", said_words.at(static_cast<std::size_t>(said_)),
        date_words.at(static_cast<std::size_t>(dates_)), extras_ ? "; extras" : "",
        workbook_ ? "workbook" : fmt::format("separator {:?}, encoding {}", separator_, encoding_),
        cell_words_);
    return std::move(made_);
  }

private:
  // What is drawn.

  std::size_t below(std::size_t n) { return stream_.below(static_cast<std::uint32_t>(n)); }
  bool one_in(std::size_t n) { return below(n) == 0; }
  template <typename List> const auto& one_of(const List& list) { return list[below(list.size())]; }

  void draw_words() {
    // Half of all tables are in English, which has the most spellings.
    const auto& all = untidy_words();
    words_ = one_in(2) ? &all[0] : &all[1 + below(all.size() - 1)];
    static const std::vector<double> factors{15, 25, 33.3, 50, 8.33};
    factor_ = one_of(factors);
    in_epg_ = !one_in(3);
    said_ = static_cast<Said>(below(3));
    dates_ = static_cast<Dates>(shape_ == Shape::samples_by_date ? 1 + below(6) : below(7));
    extras_ = one_in(2);
    factor_in_column_ = !(is_beside()) && one_in(4);
    cell_words_ = one_in(3) ? 0 : below(2) + 1;
    workbook_ = shape_ == Shape::two_sheets || (shape_ != Shape::two_files && one_in(5));
    separator_ = *one_of(separator_words);
    decimal_comma_ = separator_ == ';' && one_in(2);
    whole_epg_ = one_in(2);
    encoding_ = one_of(std::vector<std::string>{"UTF-8", "UTF-8", "Windows-1252", "UTF-16"});
    undecided_ = one_of(std::vector<std::string>{"", "nd", "-", "NSF"});
  }

  bool is_beside() const {
    return shape_ == Shape::beside_in_one_head || shape_ == Shape::beside_in_two_heads;
  }

  bool has_samples() const {
    return shape_ == Shape::samples_by_word || shape_ == Shape::samples_by_day ||
           shape_ == Shape::samples_by_date;
  }

  void draw_trial() {
    static const std::vector<std::vector<std::string>> names{
        {"White", "Yellow", "Blue"}, {"North", "Lower", "Hill"}, {"Weiß", "Café", "Río"}};
    const auto& group_names = one_of(names);
    const std::size_t groups = 2 + below(2);
    const bool control = shape_ != Shape::no_group && one_in(2);
    control_by_ = control ? static_cast<ControlBy>(below(3)) : ControlBy::option;
    if (is_beside() || shape_ == Shape::titles_above_rows)
      control_by_ = ControlBy::option;
    draw_days();
    made_.trial.name = "lambs";
    for (std::size_t i = 0; i < groups; ++i) {
      Group group;
      group.name = group_names[i];
      if (control && i + 1 == groups) {
        group.name = one_of(std::vector<std::string>{"Control", "Rest", "Untreated"});
        group.role = Role::control;
        if (control_by_ == ControlBy::option)
          made_.options.control = group.name;
      } else if (control && control_by_ == ControlBy::drench) {
        group.drench = "levamisole";
      }
      draw_animals(group, 100 * (i + 1));
      made_.trial.groups.push_back(std::move(group));
    }
    add_one_of_thousands();
  }

  void draw_days() {
    using namespace std::chrono;
    const sys_days first = sys_days(2031y / May / 1) + days(below(17));
    day_before_ = first;
    day_treated_ = first + days(below(2));
    day_after_ = day_treated_ + days(7 + below(8));
  }

  void draw_animals(Group& group, std::size_t first_tag) {
    const std::size_t animals = 6 + below(7);
    const double left = group.role == Role::control ? 1 : 0.02 * static_cast<double>(below(12));
    for (std::size_t i = 0; i < animals; ++i) {
      Animal animal;
      animal.tag = fmt::format("{}", first_tag + i + 1);
      const MultiplicationFactor factor(factor_);
      const auto before = static_cast<std::uint32_t>(2 + below(24));
      const auto after =
          static_cast<std::uint32_t>(left * before * 2 * static_cast<double>(below(100)) / 100);
      if (!one_in(20))
        animal.before = Count{EggsSeen(before), factor};
      if (!animal.before || !one_in(12))
        animal.after = Count{EggsSeen(after), factor};
      if (dates_ != Dates::none) {
        animal.date_before = day_before_;
        animal.date_treated = day_treated_;
        animal.date_after = day_after_;
      }
      group.animals.push_back(std::move(animal));
    }
  }

  /// So that marks for thousands have something to part.
  void add_one_of_thousands() {
    Animal& animal = made_.trial.groups[0].animals[below(6)];
    const auto eggs = static_cast<std::uint32_t>(in_epg_ ? 1200 / factor_ + 8 : 1203);
    animal.before = Count{EggsSeen(eggs), MultiplicationFactor(factor_)};
  }

  // Cells.

  /// "1,200", "1.200" or "1 200" where the table has such marks.
  std::string with_marks(double value) {
    std::string text = fmt::format("{}", value);
    const std::size_t point = std::min(text.find('.'), text.size());
    if (point < text.size() && decimal_comma_)
      text[point] = ',';
    if (point > 3 && cell_words_ > 0 && !one_in(3))
      text.insert(point - 3, one_in(2) ? " " : decimal_comma_ ? "." : ",");
    return text;
  }

  std::string number(const Count& count) {
    const double eggs = count.eggs.value();
    if (!in_epg_)
      return with_marks(eggs);
    const double epg = eggs * factor_;
    return with_marks(whole_epg_ ? std::round(epg) : std::round(epg * 100) / 100);
  }

  std::string none_seen() {
    if (cell_words_ == 0 || one_in(2))
      return "0";
    if ((undecided_ == "nd" || undecided_ == "NSF") && one_in(2)) {
      undecided_used_ = true;
      return undecided_;
    }
    if (one_in(3))
      return in_epg_ ? fmt::format("<{}", with_marks(factor_)) : "<1";
    return one_of(words_->none_seen);
  }

  std::string not_sampled() {
    if (cell_words_ == 0 || one_in(3))
      return {};
    if (undecided_ == "-" && one_in(2)) {
      undecided_used_ = true;
      return undecided_;
    }
    return one_of(words_->not_sampled);
  }

  std::string cell(const Animal& animal, Occasion occasion) {
    const Count* const count = count_at(animal, occasion);
    if (count == nullptr)
      return not_sampled();
    if (count->eggs.value() == 0)
      return none_seen();
    std::string text = number(*count);
    if (cell_words_ == 2 && one_in(8))
      return text + one_of(std::vector<std::string>{" (soft)", " *", " runny"});
    if (cell_words_ == 2 && one_in(8)) {
      unit_in_cells_ = true;
      return text + (in_epg_ ? " epg" : " eggs");
    }
    return text;
  }

  std::string date(std::chrono::sys_days day) const {
    const std::chrono::year_month_day ymd(day);
    const unsigned d(ymd.day());
    const unsigned m(ymd.month());
    const std::string& name = m == 5 ? words_->months.first : words_->months.second;
    switch (dates_) {
    case Dates::day_first:
      return fmt::format("{}/{}/2031", d, m);
    case Dates::month_first:
      return fmt::format("{}/{}/2031", m, d);
    case Dates::dots:
      return fmt::format("{:02}.{:02}.31", d, m);
    case Dates::by_name:
      return fmt::format("{} {} 2031", d, name);
    case Dates::hyphens:
      return fmt::format("{}-{}-31", d, name);
    case Dates::iso:
      return fmt::format("2031-{:02}-{:02}", m, d);
    default:
      return {};
    }
  }

  bool order_is_open() const {
    if (dates_ != Dates::day_first && dates_ != Dates::month_first)
      return false;
    bool matters = false;
    for (const auto day : {day_before_, day_treated_, day_after_}) {
      const std::chrono::year_month_day ymd(day);
      if (unsigned(ymd.day()) > 12)
        return false;
      matters = matters || unsigned(ymd.day()) != unsigned(ymd.month());
    }
    return matters;
  }

  // Heads.

  std::pair<std::string, std::string> count_heads() {
    const auto& heads = said_ != Said::in_heads ? one_of(words_->counts)
                        : in_epg_               ? one_of(words_->epgs)
                                                : one_of(words_->eggs);
    day_14_told_ = heads.second.ends_with("14");
    return heads;
  }

  std::string count_head() {
    return said_ != Said::in_heads ? one_of(words_->count)
           : in_epg_               ? one_of(words_->epg)
                                   : one_of(words_->egg);
  }

  // Tables: columns are made one after the other, and rows of them.

  struct Column {
    std::string head;
    std::vector<std::string> cells; ///< As many as rows.
  };

  struct Sample {
    const Group* group;
    const Animal* animal;
    Occasion occasion;
  };

  using Samples = std::vector<Sample>;

  template <typename Text>
  static Column column(std::string head, const Samples& rows, Text&& text) {
    Column made{std::move(head), {}};
    for (const Sample& row : rows)
      made.cells.push_back(text(row));
    return made;
  }

  Samples animals_at(Occasion occasion) const {
    Samples rows;
    for (const Group& group : made_.trial.groups)
      for (const Animal& animal : group.animals)
        rows.push_back({&group, &animal, occasion});
    return rows;
  }

  void add_names(std::vector<Column>& columns, const Samples& rows) {
    if (shape_ != Shape::no_animal)
      columns.push_back(
          column(one_of(words_->tag), rows, [](const Sample& row) { return row.animal->tag; }));
    if (shape_ == Shape::no_group || shape_ == Shape::titles_above_rows)
      return;
    const auto place = columns.begin() + static_cast<std::ptrdiff_t>(below(columns.size() + 1));
    columns.insert(place, column(one_of(words_->group), rows,
                                 [](const Sample& row) { return row.group->name; }));
    const bool control = control_of(made_.trial) != nullptr;
    if (control && control_by_ == ControlBy::role)
      columns.push_back(column(one_of(words_->role), rows, [](const Sample& row) {
        return row.group->role == Role::control ? "Control" : "treated";
      }));
    if (control && control_by_ == ControlBy::drench)
      columns.push_back(column(one_of(words_->drench), rows, [](const Sample& row) {
        return row.group->role == Role::control ? "untreated" : row.group->drench;
      }));
  }

  void add_factor(std::vector<Column>& columns, const Samples& rows) {
    if (factor_in_column_)
      columns.push_back(column("Multiplication factor", rows, [&](const Sample&) {
        std::string text = fmt::format("{}", factor_);
        if (decimal_comma_)
          std::ranges::replace(text, '.', ',');
        return text;
      }));
  }

  void add_treated(std::vector<Column>& columns, const Samples& rows) {
    columns.push_back(column(one_of(words_->date_treated), rows,
                             [&](const Sample&) { return date(day_treated_); }));
  }

  void add_dates(std::vector<Column>& columns, const Samples& rows) {
    if (dates_ == Dates::none)
      return;
    const auto& [before, after] = one_of(words_->dates);
    columns.push_back(column(before, rows, [&](const Sample&) { return date(day_before_); }));
    add_treated(columns, rows);
    columns.push_back(column(after, rows, [&](const Sample&) { return date(day_after_); }));
  }

  /// Columns that nobody needs.
  void add_others(std::vector<Column>& columns, const Samples& rows) {
    if (!extras_)
      return;
    columns.push_back(column("Sex", rows, [&](const Sample&) { return one_in(2) ? "F" : "M"; }));
    columns.push_back(column("Comments", rows, [&](const Sample&) {
      return one_in(4) ? "dirty behind" : std::string();
    }));
    columns.push_back(
        column("Lab no.", rows, [&](const Sample&) { return fmt::format("L{}", below(1000)); }));
  }

  Grid grid_of(const std::vector<Column>& columns) {
    Grid grid(1 + columns[0].cells.size());
    for (const Column& each : columns) {
      grid[0].push_back(each.head);
      for (std::size_t i = 0; i < each.cells.size(); ++i)
        grid[i + 1].push_back(each.cells[i]);
    }
    return grid;
  }

  /// One row an animal, with counts of both times.
  Grid animals_table(const Samples& rows) {
    std::vector<Column> columns;
    add_names(columns, rows);
    add_dates(columns, rows);
    const auto [before, after] = count_heads();
    columns.push_back(column(
        before, rows, [&](const Sample& row) { return cell(*row.animal, Occasion::before); }));
    add_others(columns, rows);
    columns.push_back(
        column(after, rows, [&](const Sample& row) { return cell(*row.animal, Occasion::after); }));
    add_factor(columns, rows);
    return grid_of(columns);
  }

  Grid samples_table() {
    Samples rows = animals_at(Occasion::before);
    const bool by_animal = one_in(2);
    for (const Sample& row : animals_at(Occasion::after))
      rows.push_back(row);
    if (by_animal)
      std::ranges::stable_sort(rows, {}, [](const Sample& row) { return row.animal->tag; });
    std::vector<Column> columns;
    add_names(columns, rows);
    add_when(columns, rows);
    columns.push_back(column(count_head(), rows,
                             [&](const Sample& row) { return cell(*row.animal, row.occasion); }));
    if (dates_ != Dates::none)
      add_treated(columns, rows);
    add_others(columns, rows);
    add_factor(columns, rows);
    return grid_of(columns);
  }

  void add_when(std::vector<Column>& columns, const Samples& rows) {
    const auto times = one_of(words_->times);
    const std::string day = one_of(std::vector<std::string>{"", "D", "Day "});
    if (shape_ == Shape::samples_by_word)
      columns.push_back(column(one_of(words_->occasion), rows, [&](const Sample& row) {
        return row.occasion == Occasion::before ? times.first : times.second;
      }));
    day_14_told_ = shape_ == Shape::samples_by_day;
    if (day_14_told_)
      columns.push_back(column(one_of(words_->day), rows, [&](const Sample& row) {
        return day + (row.occasion == Occasion::before ? "0" : "14");
      }));
    if (dates_ != Dates::none)
      columns.push_back(column(one_of(words_->date), rows, [&](const Sample& row) {
        return date(row.occasion == Occasion::before ? day_before_ : day_after_);
      }));
  }

  /// Of one time.
  Grid half_table(Occasion occasion, const std::string& count_head) {
    const Samples rows = animals_at(occasion);
    std::vector<Column> columns;
    add_names(columns, rows);
    if (dates_ != Dates::none) {
      columns.push_back(column(one_of(words_->date), rows, [&](const Sample&) {
        return date(occasion == Occasion::before ? day_before_ : day_after_);
      }));
      if (occasion == Occasion::before)
        add_treated(columns, rows);
    }
    columns.push_back(
        column(count_head, rows, [&](const Sample& row) { return cell(*row.animal, occasion); }));
    add_others(columns, rows);
    add_factor(columns, rows);
    return grid_of(columns);
  }

  Grid beside_table() {
    std::size_t most = 0;
    for (const Group& group : made_.trial.groups)
      most = std::max(most, group.animals.size());
    const bool two_heads = shape_ == Shape::beside_in_two_heads;
    const auto [before, after] = count_heads();
    const std::string tag = one_of(words_->tag);
    Row above;
    std::vector<Column> columns;
    for (const Group& group : made_.trial.groups) {
      const std::string start = two_heads ? "" : group.name + " ";
      above.insert(above.end(), {group.name, "", ""});
      std::vector<Column> block{{tag, {}}, {start + before, {}}, {start + after, {}}};
      for (std::size_t i = 0; i < most; ++i) {
        const Animal* const animal = i < group.animals.size() ? &group.animals[i] : nullptr;
        block[0].cells.push_back(animal != nullptr ? animal->tag : "");
        block[1].cells.push_back(animal != nullptr ? cell(*animal, Occasion::before) : "");
        block[2].cells.push_back(animal != nullptr ? cell(*animal, Occasion::after) : "");
      }
      columns.insert(columns.end(), block.begin(), block.end());
    }
    add_dates(columns, Samples(most));
    Grid grid = grid_of(columns);
    above.resize(grid[0].size());
    if (two_heads)
      grid.insert(grid.begin(), above);
    return grid;
  }

  Grid titled_table() {
    Grid grid;
    const Grid all = animals_table(animals_at(Occasion::before));
    grid.push_back(all[0]);
    std::size_t position = 1;
    for (const Group& group : made_.trial.groups) {
      grid.emplace_back(all[0].size());
      grid.back()[0] = group.name;
      for (std::size_t i = 0; i < group.animals.size(); ++i)
        grid.push_back(all[position++]);
      if (extras_ && one_in(2))
        grid.push_back(sum_row("Mean", all[0].size()));
    }
    return grid;
  }

  Row sum_row(const std::string& name, std::size_t columns) {
    Row row(columns);
    row[0] = name;
    for (std::size_t i = 2; i < columns; ++i)
      row[i] = fmt::format("{}", 1 + below(400));
    return row;
  }

  /// Titles above, and sums and notes below.
  void surround(Grid& grid) {
    const std::size_t columns = grid[0].size();
    const auto alone = [&](const std::string& text) {
      Row row(columns);
      row[0] = text;
      return row;
    };
    Grid above;
    if (extras_) {
      above.push_back(alone("Drench check, spring lambs"));
      above.push_back(alone("Long Acre"));
    }
    if (said_ == Said::in_a_title)
      above.push_back(alone(in_epg_ ? one_of(words_->epg_titles) : "Numbers are those seen"));
    if (!above.empty() && one_in(2))
      above.emplace_back(columns);
    grid.insert(grid.begin(), above.begin(), above.end());
    if (!extras_)
      return;
    grid.push_back(
        sum_row(one_of(std::vector<std::string>{"Mean", "Average", "Mean (n = 12)"}), columns));
    grid.push_back(sum_row("Total", columns));
    grid.emplace_back(columns);
    grid.push_back(alone("Counted within two days of sampling."));
  }

  std::string bytes_of(const Grid& grid) const {
    const std::string text = csv_of(grid, separator_);
    return encoding_ == "UTF-16"         ? in_utf_16(text)
           : encoding_ == "Windows-1252" ? in_windows_1252(text)
                                         : text;
  }

  void write() {
    if (shape_ == Shape::two_sheets || shape_ == Shape::two_files) {
      write_halves();
      return;
    }
    Grid grid = has_samples()                        ? samples_table()
                : is_beside()                        ? beside_table()
                : shape_ == Shape::titles_above_rows ? titled_table()
                                                     : animals_table(animals_at(Occasion::before));
    surround(grid);
    if (workbook_)
      made_.tables.push_back(
          {zip_of(parts_of_ods(ods_table(grid, "Counts"))), "lambs.ods", "lambs"});
    else
      made_.tables.push_back({bytes_of(grid), "lambs.csv", "lambs"});
  }

  void write_halves() {
    const std::string head = count_head();
    Grid first = half_table(Occasion::before, head);
    Grid second = half_table(Occasion::after, head);
    surround(first);
    surround(second);
    const bool named = one_in(2);
    times_are_open_ = !named && dates_ == Dates::none;
    const auto [before, after] =
        named ? one_of(words_->times) : std::pair<std::string, std::string>{"one", "other"};
    if (shape_ == Shape::two_sheets)
      made_.tables.push_back(
          {zip_of(parts_of_ods(ods_table(first, before) + ods_table(second, after))), "lambs.ods",
           "lambs"});
    else
      made_.tables = {{bytes_of(first), "lambs " + before + ".csv", "lambs " + before},
                      {bytes_of(second), "lambs " + after + ".csv", "lambs " + after}};
  }

  // What is expected.

  void finish_trial() {
    if (!factor_in_column_)
      made_.options.factor_before = made_.options.factor_after = MultiplicationFactor(factor_);
    made_.names_animals = shape_ != Shape::no_animal;
    if (day_14_told_ && dates_ == Dates::none)
      for (Group& group : made_.trial.groups)
        for (Animal& animal : group.animals)
          animal.days_after = 14;
    if (shape_ != Shape::no_group)
      return;
    Group one;
    one.name = "all animals";
    for (const Group& group : made_.trial.groups)
      one.animals.insert(one.animals.end(), group.animals.begin(), group.animals.end());
    made_.trial.groups = {one};
  }

  void ask() {
    const auto open = [&](const std::string& key, const std::string& value) {
      made_.answers.push_back({key, value});
    };
    if (order_is_open())
      open("dates", dates_ == Dates::day_first ? "day-first" : "month-first");
    if (undecided_used_)
      open("cell", undecided_ + (undecided_ == "-" ? "=not-sampled" : "=none-seen"));
    if (!in_epg_ && said_ != Said::in_heads && !unit_in_cells_)
      open("counts", "eggs");
    if (times_are_open_)
      open("occasions", "before,after");
  }

  RandomStream stream_;
  Shape shape_;
  const UntidyWords* words_ = nullptr;
  double factor_ = 50;
  bool in_epg_ = true;
  Said said_ = Said::in_heads;
  Dates dates_ = Dates::none;
  ControlBy control_by_ = ControlBy::option;
  bool extras_ = false;
  std::size_t cell_words_ = 0; ///< 0: numbers alone; 1: words too; 2: notes and units too.
  bool workbook_ = false;
  char separator_ = ',';
  bool decimal_comma_ = false;
  bool whole_epg_ = false;
  std::string encoding_;
  std::string undecided_; ///< A word that is to be asked about.
  std::chrono::sys_days day_before_;
  std::chrono::sys_days day_treated_;
  std::chrono::sys_days day_after_;
  UntidyTable made_;
  // What was written.
  bool undecided_used_ = false;
  bool unit_in_cells_ = false;
  bool day_14_told_ = false; ///< That the second samples are of it.
  bool factor_in_column_ = false;
  bool times_are_open_ = false;
};

} // namespace

const std::size_t untidy_shapes = shape_names.size();

UntidyTable untidy_table(std::uint64_t seed, std::uint32_t number) {
  return TableMaker(seed, number).make();
}
