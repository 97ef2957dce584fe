#include "intake/sheet_reading.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/count_cell.hpp"
#include "intake/dose_units.hpp"
#include "intake/fill_rows.hpp"
#include "intake/header_row.hpp"
#include "intake/oocysts.hpp"
#include "intake/open_question.hpp"
#include "intake/unlabelled_sums.hpp"
#include "trial/drug_words.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <functional>
#include <map>
#include <set>
#include <utility>

namespace eggfall {
namespace {

using Kind = ColumnReading::Kind;

/// By a word, a day or a place in a row; dates and what says nothing aside.
bool say_one_time(const TimePoint& a, const TimePoint& b) {
  return (a.occasion || a.day || a.place || a.yearless) && a.occasion == b.occasion &&
         a.day == b.day && a.place == b.place && a.yearless == b.yearless;
}

/// All cells of a column that are not empty.
std::vector<std::string_view> cells_of(const SheetReading& reading, std::size_t column) {
  std::vector<std::string_view> cells;
  for (const SampleRow& row : reading.rows)
    if (const std::string_view cell = row.cell(column); !cell.empty())
      cells.push_back(cell);
  return cells;
}

bool all_of(const std::vector<std::string_view>& cells,
            const std::function<bool(std::string_view)>& fits) {
  return !cells.empty() && std::ranges::all_of(cells, fits);
}

constexpr const char* unlabelled_sums = "sums or means without a word that says so";

class SheetReader {
public:
  SheetReader(const RawSheet& sheet, const Layout& layout, Problems& problems, ReadingLog& log)
      : sheet_(sheet), layout_(layout), problems_(problems), log_(log) {
    reading_.sheet = &sheet;
  }

  std::optional<SheetReading> read() {
    const auto header = find_header(sheet_, layout_);
    if (!header)
      return std::nullopt;
    read_header(*header);
    counts_ = reading_.counts();
    if (counts_.empty())
      return std::nullopt;
    for (std::size_t i = *header + 1; i < sheet_.rows.size(); ++i)
      take_row(sheet_.rows[i]);
    if (!has_counts())
      return std::nullopt;
    drop_last_sum();
    tell_split_rows();
    settle_sections();
    look_into_cells();
    settle_twins();
    ask_for_oocysts(reading_, layout_);
    tell_passed_over();
    fill_rows(reading_, layout_, problems_, log_);
    return std::move(reading_);
  }

private:
  struct Title {
    std::size_t line;
    std::string text;
    std::size_t rows_before; ///< Rows of samples that stand above it.
  };

  void read_header(std::size_t position) {
    const TableRow& row = sheet_.rows[position];
    reading_.header_line = row.line;
    reading_.columns = read_heads(row, {}, layout_);
    std::size_t titles = position;
    if (position > 0 && filled_cells(sheet_.rows[position - 1]) > 0 &&
        heads_are_short(reading_.columns)) {
      const TableRow& above = sheet_.rows[position - 1];
      const bool title = filled_cells(above) == 1 && !above.cells[0].empty();
      if (!title) {
        reading_.columns =
            read_heads(row, spread_heads(above, row.cells.size(), reading_.columns), layout_);
        titles = position - 1;
      }
    } else if (position > 0) {
      take_days_above(sheet_.rows[position - 1]);
    }
    for (std::size_t i = 0; i < titles; ++i) {
      const TableRow& title = sheet_.rows[i];
      keep_note(title);
      for (const std::string& cell : title.cells)
        if (!cell.empty())
          reading_.around.push_back(cell);
      if (i + 1 == titles && filled_cells(title) == 1)
        above_header_ = Title{title.line, reading_.around.back(), 0};
      else
        passed("titles", title);
    }
  }

  /// "Day 0" and "Day 3" above heads that say the times by themselves, "EPG before" and "EPG
  /// after".
  void take_days_above(const TableRow& above) {
    for (ColumnReading& column : reading_.columns) {
      if (column.kind != Kind::count || column.time.day ||
          column.time.occasion == Occasion::before || column.index >= above.cells.size())
        continue;
      const std::string& cell = above.cells[column.index];
      const TimePoint said = time_point(layout_.words().pieces_of(cell), cell);
      if (!said.day || !said.unit_said)
        continue;
      column.time.day = said.day;
      column.time.unit_said = true;
    }
  }

  void keep_note(const TableRow& row) {
    NoteRow note{row.line, {}};
    for (const std::string& cell : row.cells)
      if (!cell.empty())
        note.text += (note.text.empty() ? "" : " ") + cell;
    reading_.notes.push_back(std::move(note));
  }

  bool is_header_again(const TableRow& row) const {
    std::size_t same = 0;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      if (row.cells[i].empty())
        continue;
      if (i >= reading_.columns.size() || !reading_.columns[i].head.ends_with(row.cells[i]))
        return false;
      ++same;
    }
    return same > 1;
  }

  std::string_view of_attribute(const SampleRow& row, std::string_view name) const {
    const ColumnReading* const column = reading_.attribute(name);
    return column != nullptr ? row.cell(column->index) : std::string_view();
  }

  /// The first cell that is not empty; rows without any are not kept.
  static std::size_t first_filled(const SampleRow& row) {
    const std::vector<std::string>& cells = row.row->cells;
    const auto first =
        std::ranges::find_if(cells, [](const std::string& cell) { return !cell.empty(); });
    return static_cast<std::size_t>(first - cells.begin());
  }

  /// The column of a word such as "Mean" where a group would be named, or in the first cell.
  std::optional<std::size_t> word_of_sums(const SampleRow& row) const {
    if (const std::size_t first = first_filled(row); layout_.words().sums_up(row.row->cells[first]))
      return first;
    if (const ColumnReading* const group = reading_.attribute("group");
        group != nullptr && layout_.words().sums_up(row.cell(group->index)))
      return group->index;
    return std::nullopt;
  }

  /// Words for sums that are also what groups, pens, regions, sexes and the like are called: "N" is
  /// a number of animals, north and neutered, and "average" a condition too.
  static bool may_name_another_thing(std::string_view word) {
    constexpr std::size_t longest_code = 3;
    constexpr std::array<std::string_view, 11> conditions{"average", "mean",    "medium", "mittel",
                                                          "moyen",   "moyenne", "media",  "medio",
                                                          "blank",   "range",   "summary"};
    const std::string look = look_of(word);
    return look.size() <= longest_code ||
           std::ranges::find(conditions, std::string_view(look)) != conditions.end();
  }

  /// What a row is that sums others up by a word: in its animal's place, or beside no animal; or
  /// beside one ("Mean, 12, 450, 30", whose 12 is a number of animals), by its numbers or its place
  /// below such a row. For a word alone must not take animals away, nor add sums to them.
  UnlabelledSums::Named by_word(const SampleRow& row) {
    using Named = UnlabelledSums::Named;
    const std::string_view animal = of_attribute(row, "animal");
    if (layout_.words().sums_up(animal))
      return Named::sum;
    const std::optional<std::size_t> place = word_of_sums(row);
    if (!place)
      return Named::animal;
    if (animal.empty() || row.row->line == sums_end_ || sums_.agrees_without_a_word(row))
      return Named::sum;
    const bool agrees = sums_.agrees(row);
    if (may_name_another_thing(row.row->cells[*place]))
      return agrees ? Named::unclear : Named::animal;
    return agrees ? Named::sum : Named::unclear;
  }

  /// Max is an animal's name, but not right below "Mean" or "SD".
  bool is_greatest_among_sums(const SampleRow& row) const {
    const std::string first = look_of(row.row->cells[first_filled(row)]);
    return row.row->line == sums_end_ && (first == "max" || first == "max.");
  }

  bool has_count(const SampleRow& row) const {
    return std::ranges::any_of(
        counts_, [&](const ColumnReading* column) { return !row.cell(column->index).empty(); });
  }

  void take_row(const TableRow& table_row) {
    const SampleRow row{&table_row, {}};
    if (is_header_again(table_row)) {
      passed("the header again", table_row);
      return;
    }
    const UnlabelledSums::Named called = by_word(row);
    if (called == UnlabelledSums::Named::unclear) {
      unclear_words_.push_back(&table_row);
      return;
    }
    if (called == UnlabelledSums::Named::sum || is_greatest_among_sums(row)) {
      passed("sums and means", table_row);
      sums_.end_block();
      sums_end_ = table_row.line + 1;
      return;
    }
    if (reading_.attribute("animal") != nullptr && sums_.has(row)) {
      passed(unlabelled_sums, table_row);
      sums_.end_block();
      return;
    }
    if (reading_.attribute("animal") != nullptr && has_count(row)) {
      const std::string_view name = of_attribute(row, "animal");
      const auto found = sums_.of_named(row, name);
      if (found == UnlabelledSums::Named::sum) {
        passed(names_a_sum(name) ? "sums and means" : unlabelled_sums, table_row);
        sums_.end_block();
        sums_end_ = table_row.line + 1;
        return;
      }
      if (found == UnlabelledSums::Named::unclear) {
        unclear_sums_.push_back(&table_row);
        return;
      }
    }
    if (is_another_header(row)) {
      problems_.add({sheet_.source,
                     table_row.line,
                     0,
                     {},
                     "another header, of other columns",
                     fmt::format("columns as in the header on {} (put tables of other columns into "
                                 "sheets or files of their own)",
                                 sheet_.source.line(reading_.header_line))});
      return;
    }
    if (!has_count(row)) {
      const std::size_t filled = filled_cells(table_row);
      const std::string_view tag = of_attribute(row, "animal");
      const bool names_one = !tag.empty() && (filled > 1 || is_like_a_tag(tag));
      if (!names_one) {
        keep_title(table_row);
        return;
      }
    }
    check_width(table_row);
    reading_.rows.push_back(row);
  }

  /// In columns of counts, words alone; and heads of columns among them.
  bool is_another_header(const SampleRow& row) const {
    const bool words = std::ranges::all_of(counts_, [&](const ColumnReading* column) {
      const auto says = read_count_cell(row.cell(column->index), layout_).says;
      return says == CountCell::Says::no_count || says == CountCell::Says::nothing;
    });
    constexpr int like_a_header = 5; // two heads, one of them of counts
    return words && has_count(row) && header_score(*row.row, layout_) >= like_a_header;
  }

  /// Where no column names animals, the last row may sum up those above.
  void drop_last_sum() {
    if (reading_.attribute("animal") != nullptr || reading_.rows.empty())
      return;
    const SampleRow last = reading_.rows.back();
    reading_.rows.pop_back();
    const bool apart =
        !reading_.rows.empty() && last.row->line > reading_.rows.back().row->line + 1;
    if (sums_.has(last) || (apart && sums_.are_means_of_all(last)))
      passed(unlabelled_sums, *last.row);
    else
      reading_.rows.push_back(last);
  }

  /// A number, or a word with a digit in it: what an animal is called that was never sampled.
  static bool is_like_a_tag(std::string_view text) {
    return text.find_first_of("0123456789") != std::string_view::npos &&
           text.find(' ') == std::string_view::npos;
  }

  void keep_title(const TableRow& row) {
    keep_note(row);
    std::string text;
    for (const std::string& cell : row.cells)
      if (!cell.empty()) {
        reading_.around.push_back(cell);
        if (text.empty())
          text = cell;
      }
    if (filled_cells(row) == 1)
      titles_.push_back({row.line, std::move(text), reading_.rows.size()});
    else
      passed("notes", row);
  }

  /// Cells beyond the header are remarks in a sheet; in a text they show that a cell was split.
  void check_width(const TableRow& row) {
    const std::size_t columns = reading_.columns.size();
    const std::size_t cells = row.cells.size();
    if (cells <= columns)
      return;
    if (sheet_.source.is_sheet())
      passed("cells beyond the header", row);
    else
      split_rows_.push_back(&row);
  }

  /// Only of what is a table of counts: lines of any text may look like a header.
  void tell_split_rows() {
    for (const TableRow* row : unclear_sums_) {
      const ColumnReading& column = *reading_.attribute("animal");
      problems_.add(
          {sheet_.source, row->line, column.index + 1, column.head,
           in_quotes(SampleRow{row, {}, {}}.cell(column.index)) +
               ", which reads as a sum or a mean, and counts that are neither of the rows "
               "above it",
           "a word such as Total or Mean alone in this cell, if the row sums others up; "
           "or the name of an animal without such a word"});
    }
    for (const TableRow* row : unclear_words_) {
      const std::size_t place = *word_of_sums(SampleRow{row, {}});
      problems_.add({sheet_.source, row->line, place + 1, reading_.columns[place].head,
                     fmt::format("{} beside the animal {}, which reads as a sum or a mean of the "
                                 "rows above it, or as an animal of that name or kind",
                                 in_quotes(row->cells[place]),
                                 in_quotes(of_attribute(SampleRow{row, {}}, "animal"))),
                     "an empty cell for the animal, if the row sums others up; or another word "
                     "here"});
    }
    for (const TableRow* row : split_rows_)
      problems_.add(
          {sheet_.source,
           row->line,
           0,
           {},
           fmt::format("{} cells", row->cells.size()),
           fmt::format("{}, as in the header on {} (a decimal comma needs semicolons "
                       "between cells, or quotes)",
                       reading_.columns.size(), sheet_.source.line(reading_.header_line))});
  }

  /// Whether any cell in a column of counts is one.
  bool has_counts() const {
    return std::ranges::any_of(reading_.rows, [&](const SampleRow& row) {
      return std::ranges::any_of(counts_, [&](const ColumnReading* column) {
        const auto says = read_count_cell(row.cell(column->index), layout_).says;
        return says != CountCell::Says::nothing && says != CountCell::Says::no_count;
      });
    });
  }

  /// Titles that stand above rows name groups, if no column does. Beside a column of groups, one
  /// that speaks of untreated or excluded animals says what that column does not.
  void settle_sections() {
    std::vector<Title> above;
    for (const Title& title : titles_)
      if (title.rows_before < reading_.rows.size())
        above.push_back(title);
    const bool no_column =
        reading_.attribute("group") == nullptr && reading_.attribute("drench") == nullptr;
    const bool of_groups = no_column && !above.empty();
    if (of_groups && above.front().rows_before > 0 && above_header_) {
      above.insert(above.begin(), *above_header_);
      above_header_.reset();
    }
    if (above_header_)
      passed("titles", row_on(above_header_->line));
    for (const Title& title : titles_)
      if (!of_groups || title.rows_before >= reading_.rows.size())
        pass_title(title);
    if (!of_groups)
      return;
    for (std::size_t i = 0; i < above.front().rows_before; ++i)
      reading_.rows[i].section = "without a title";
    for (std::size_t i = 0; i < above.size(); ++i) {
      const std::size_t end =
          i + 1 < above.size() ? above[i + 1].rows_before : reading_.rows.size();
      for (std::size_t row = above[i].rows_before; row < end; ++row)
        reading_.rows[row].section = above[i].text;
    }
    log_.tell(fmt::format("{}: titles above rows are taken for the groups below them: {}",
                          sheet_.source.shown(), section_list()));
  }

  const TableRow& row_on(std::size_t line) const {
    return *std::ranges::lower_bound(sheet_.rows, line, {}, &TableRow::line);
  }

  void pass_title(const Title& title) {
    const bool rows_below = title.rows_before < reading_.rows.size();
    if (rows_below &&
        (sounds_untreated(title.text) || lower_case(title.text).find("exclu") != std::string::npos))
      problems_.add({sheet_.source,
                     title.line,
                     0,
                     {},
                     in_quotes(title.text) + " above animals, beside a column of groups",
                     "what it says of them in a column of their own, or these rows in a sheet of "
                     "their own"});
    passed("notes", row_on(title.line));
  }

  std::string section_list() const {
    constexpr std::size_t most_listed = 12;
    std::vector<std::string> names;
    for (const SampleRow& row : reading_.rows)
      if (names.size() <= most_listed && // one more tells that there are more
          std::ranges::find(names, row.section) == names.end())
        names.push_back(row.section);
    return quoted_list(names, most_listed);
  }

  /// What the heads leave open.
  void look_into_cells() {
    const bool has_when = std::ranges::any_of(reading_.columns, [&](const ColumnReading& column) {
      return column.kind == Kind::when &&
             (column.by_layout || times_told(column) > TimesTold::nothing);
    });
    refuse_almost_role();
    for (ColumnReading& column : reading_.columns) {
      look_for_label_rate(column);
      if (column.by_layout)
        continue;
      ask_what_pools_are(column);
      const auto cells = cells_of(reading_, column.index);
      const auto is_date = [&](std::string_view cell) {
        return written_date(cell, layout_.words()).has_value();
      };
      const auto is_role = [&](std::string_view cell) {
        return layout_.words().role(cell).has_value();
      };
      const auto is_yes_or_no = [&](std::string_view cell) {
        return layout_.words().yes_or_no(cell).has_value();
      };
      if (column.name == "date_treated" && !all_of(cells, is_date) &&
          (all_of(cells, is_role) || all_of(cells, is_yes_or_no)))
        column.name = "role";
      else if (column.name == "class" &&
               std::ranges::none_of(
                   cells,
                   [](std::string_view cell) { return parse_drug_classes(cell).has_value(); }) &&
               header_is_not_ours())
        column.kind = Kind::unused;
      else if (column.kind == Kind::count && !column.unit && all_of(cells, is_date))
        make_date(column);
      else if (column.kind == Kind::unused && !has_when && all_of(cells, [&](auto cell) {
                 return time_point(layout_.words().pieces_of(cell), cell).operator bool();
               }))
        column.kind = Kind::when;
      else if ((column.kind == Kind::unused || column.name == "group") && all_of(cells, is_role) &&
               reading_.attribute("role") == nullptr)
        take_role(column);
    }
    settle_times();
    refuse_two_days();
  }

  // Columns of times.

  /// How much a column tells of the rows' times.
  enum class TimesTold {
    nothing, ///< As where all are alike.
    words,   ///< Or places in a row.
    days,    ///< Or dates.
  };

  TimesTold times_told(const ColumnReading& column) const {
    bool all_days = true;
    bool all_times = true;
    std::set<std::string> looks;
    for (const SampleRow& row : reading_.rows) {
      const TimePoint time = time_under(column.head, row.cell(column.index), layout_.words());
      all_days = all_days && ((time.day && time.unit_said) || time.date);
      all_times = all_times && time;
      looks.insert(look_of(row.cell(column.index)));
    }
    return looks.size() < 2 ? TimesTold::nothing
           : all_days       ? TimesTold::days
           : all_times      ? TimesTold::words
                            : TimesTold::nothing;
  }

  /// Beside counts that have times of their own no column tells the rows' times, and of several
  /// one does. Any other may tell the day of the second sample, and is never lost without a word.
  void settle_times() {
    const bool timed = std::ranges::any_of(
        reading_.counts(), [](const ColumnReading* each) { return each->time.operator bool(); });
    const auto is_better = [&](const ColumnReading& column, const ColumnReading& than) {
      return !than.by_layout && (column.by_layout || times_told(column) > times_told(than));
    };
    const ColumnReading* best = nullptr;
    for (const ColumnReading& column : reading_.columns)
      if (column.kind == Kind::when && !timed && (best == nullptr || is_better(column, *best)))
        best = &column;
    for (ColumnReading& column : reading_.columns)
      if (column.kind == Kind::when && &column != best && !column.by_layout)
        take_for_days_after(column, timed);
  }

  void take_for_days_after(ColumnReading& column, bool timed) const {
    const bool said = column.name == "days_after";
    std::vector<double> days;
    bool all_days = true;
    for (const std::string_view cell : cells_of(reading_, column.index)) {
      const TimePoint time = time_under(column.head, cell, layout_.words());
      all_days = all_days && time.day && time.unit_said;
      if (time.day)
        days.push_back(*time.day);
    }
    const bool any_later = std::ranges::any_of(days, [](const double day) { return day > 0; });
    if (!said && !days.empty() && !any_later) {
      leave_out(column, "it tells no day after treatment");
    } else if (!said && (days.empty() || !all_days)) {
      leave_out(column, timed ? "heads tell the times" : "another column tells the times");
    } else {
      if (!said)
        ask_whether_of_the_test(column, days);
      column.kind = Kind::attribute;
      column.name = "days_after";
    }
  }

  /// "Days since lambing" are of something else. Where the days are those of any test, nothing
  /// hangs on it.
  void ask_whether_of_the_test(const ColumnReading& column, const std::vector<double>& days) const {
    constexpr double first_of_any_drench = 10;
    constexpr double last = 21;
    const bool usual = std::ranges::all_of(
        days, [](const double day) { return first_of_any_drench <= day && day <= last; });
    const std::vector<HeadPiece> pieces = layout_.words().pieces_of(column.head);
    const bool says_more = std::ranges::any_of(
        pieces, [](const HeadPiece& piece) { return !piece.means && !piece.number; });
    if (usual || !says_more)
      return;
    throw OpenQuestion(
        {sheet_.source,
         reading_.header_line,
         column.index + 1,
         column.head,
         "a column of days, which may be those from treatment to the second sample",
         {}},
        {answer("column", "days_after=" + column.head,
                "if they are; if they are of something else, another head, without the word for "
                "days")});
  }

  /// Of groups side by side, each with its days, one could be judged by the other's.
  void refuse_two_days() const {
    const ColumnReading* const first = reading_.attribute("days_after");
    for (const ColumnReading& column : reading_.columns) {
      if (column.kind != Kind::attribute || column.name != "days_after" || &column == first)
        continue;
      for (const SampleRow& row : reading_.rows) {
        const std::string_view here = row.cell(column.index);
        const std::string_view there = row.cell(first->index);
        if (!here.empty() && look_of(here) != look_of(there))
          throw InputError({Problem{
              sheet_.source, row.row->line, column.index + 1, column.head,
              fmt::format("{}, and {} under {} in the same row", in_quotes(here),
                          there.empty() ? std::string("nothing") : in_quotes(there),
                          in_quotes(first->head)),
              "one column that tells the days from treatment to the second sample (of groups side "
              "by side, rows of their own for each group)"}});
      }
    }
  }

  // The label's rate.

  /// Below the head of a label without a rate the cells may have one, "1 mL/5 kg"; below a head
  /// with a whole one there may be nothing. What is neither is told as not used, and why.
  void look_for_label_rate(ColumnReading& column) const {
    const bool by_head = column.name == "label_ml_per_kg" || column.name == "label_mg_per_kg";
    if (!by_head && !column.may_be_label)
      return;
    const auto cells = cells_of(reading_, column.index);
    const auto rate = written_rate(column.head);
    const auto is_rate = [](std::string_view cell) { return rate_in_cell(cell).has_value(); };
    if (by_head && rate && rate->amount) {
      if (cells.empty())
        column.of_every_row = rate->text;
      else if (!column.by_layout && !all_of(cells, is_rate))
        leave_out(column, "its head has a whole rate, and there is something else below it");
      return;
    }
    if (column.by_layout || cells.empty())
      return;
    if (by_head) {
      if (std::ranges::none_of(cells, [&](std::string_view cell) {
            return is_rate(cell) || (rate && number_of_rate(cell, *rate)) || parse_number(cell);
          }))
        leave_out(column, "none of its cells is a number");
      return;
    }
    if (!all_of(cells, is_rate))
      return;
    const bool by_substance = rate_in_cell(cells.front())->by_substance;
    if (std::ranges::any_of(cells, [&](std::string_view cell) {
          return rate_in_cell(cell)->by_substance != by_substance;
        })) {
      leave_out(column, "some of its rates are in mg, and some in mL");
      return;
    }
    column.kind = Kind::attribute;
    column.name = by_substance ? "label_mg_per_kg" : "label_ml_per_kg";
  }

  static void leave_out(ColumnReading& column, const char* why) {
    column.kind = Kind::unused;
    column.name.clear();
    column.why = why;
  }

  // Pools.

  /// "Pool" with 1, 2, 3 ... below it may number the pools, or say how many animals are in each;
  /// and of what numbers them it is told that nothing says how many there are.
  void ask_what_pools_are(const ColumnReading& column) {
    const std::vector<HeadPiece> pieces = layout_.words().pieces_of(column.head);
    if (column.name == "animals_in_pool" && pieces.size() == 1 && !says_more(column.head) &&
        counts_up(column))
      throw OpenQuestion(
          {sheet_.source,
           reading_.header_line,
           column.index + 1,
           column.head,
           "1, 2, 3 and so on, which may number the pools or say how many animals are in each",
           {}},
          {answer("column", "animal=" + column.head, "the names of the pools"),
           answer("column", "animals_in_pool=" + column.head, "how many animals are in each")});
    const bool names_pools = column.kind == Kind::attribute && column.name == "animal" &&
                             says_pool(column.head) &&
                             reading_.attribute("animals_in_pool") == nullptr;
    if (names_pools)
      log_.tell(fmt::format("{}: {} is taken for the names of samples: nothing says how many "
                            "animals are in each pool (a column animals_in_pool would)",
                            sheet_.source.shown(), in_quotes(column.head)));
  }

  static bool says_pool(std::string_view head) {
    const std::string look = unaccented_look_of(head);
    return look.find("pool") != std::string::npos || look.find("composite") != std::string::npos;
  }

  /// "Pool size" says what it holds.
  static bool says_more(std::string_view head) {
    const std::string words = plain_words(unaccented_look_of(head));
    constexpr std::array<std::string_view, 7> bare{
        "pool", "pools", "pooled", "composite", "composites", "sammelprobe", "melange"};
    return std::ranges::find(bare, words) == bare.end();
  }

  /// 1, 2, 3 ..., and perhaps from 1 again, each perhaps in several rows.
  bool counts_up(const ColumnReading& column) const {
    constexpr std::uint64_t enough = 3;
    std::uint64_t last = 0;
    std::uint64_t most = 0;
    for (const SampleRow& row : reading_.rows) {
      const auto number = parse_whole_number(row.cell(column.index));
      if (!number || (*number != last && *number != last + 1 && *number != 1) || *number == 0)
        return false;
      last = *number;
      most = std::max(most, last);
    }
    return most >= enough;
  }

  // Two columns of one meaning.

  /// Whether two columns tell rows apart alike, so that either would do.
  bool say_the_same(const ColumnReading& a, const ColumnReading& b) const {
    std::map<std::string_view, std::string_view> b_of;
    std::map<std::string_view, std::string_view> a_of;
    return std::ranges::all_of(reading_.rows, [&](const SampleRow& row) {
      const std::string_view left = row.cell(a.index);
      const std::string_view right = row.cell(b.index);
      return b_of.emplace(left, right).first->second == right &&
             a_of.emplace(right, left).first->second == left;
    });
  }

  /// Of two columns that both name the animals, or the groups, one is read: the first, if they tell
  /// rows apart alike; a running number is no name beside another. Otherwise their owner is asked;
  /// what no verdict hangs on is left out.
  void settle_twins() {
    std::map<std::string, std::vector<ColumnReading*>> by_name;
    for (ColumnReading& column : reading_.columns)
      if (column.kind == Kind::attribute)
        by_name[column.name].push_back(&column);
    for (auto& [name, twins] : by_name)
      if (twins.size() > 1 &&
          std::ranges::none_of(twins, [](const ColumnReading* each) { return each->by_layout; }))
        settle_twins_of(name, twins);
  }

  void settle_twins_of(const std::string& name, std::vector<ColumnReading*>& twins) {
    const auto same_head = [&](const ColumnReading* each) {
      return look_of(each->head) == look_of(twins.front()->head);
    };
    if (name == "animal" && (counts_stand_by_groups() ||
                             (std::ranges::all_of(twins, same_head) && counts_come_twice())))
      return; // of groups side by side, each has its own
    if (name == "animal")
      for (std::size_t i = 1; i < twins.size(); ++i)
        if (has_counts_between(*twins.front(), *twins[i]))
          refuse_pairs_by_order(*twins.front(), *twins[i], same_head(twins[i]));
    std::erase_if(twins, [&](ColumnReading* each) {
      const bool empty = cells_of(reading_, each->index).empty();
      const bool number = name == "animal" && reading_.numbers_rows(*each);
      if (empty || number)
        each->kind = Kind::unused;
      return empty || number;
    });
    if (twins.size() < 2)
      return;
    const bool same = std::all_of(twins.begin() + 1, twins.end(), [&](const ColumnReading* each) {
      return say_the_same(*twins.front(), *each);
    });
    const bool matters = name == "animal" || name == "group" || name == "drench" ||
                         name == "role" || name == "class" || name == "trial" || name == "farm" ||
                         name == "factor" || name == "animals_in_pool";
    if (same || !matters) {
      for (ColumnReading* each : twins)
        if (each != twins.front() || !same) {
          each->kind = Kind::unused;
          if (!same)
            each->why = fmt::format("one of {} columns that could be {}", twins.size(), name);
        }
      return;
    }
    std::vector<LayoutAnswer> answers;
    for (const ColumnReading* each : twins)
      answers.push_back(answer("column", name + '=' + each->head));
    throw OpenQuestion({sheet_.source,
                        reading_.header_line,
                        twins[1]->index + 1,
                        twins[1]->head,
                        fmt::format("{} columns that could be the {}", twins.size(), name),
                        {}},
                       std::move(answers));
  }

  /// Two columns that name animals, one beside the counts before and one beside those after, which
  /// are not the same in each row: animals would be paired by the order of rows.
  void refuse_pairs_by_order(const ColumnReading& one, const ColumnReading& other,
                             bool of_one_head) const {
    std::set<std::string> names;
    for (const SampleRow& row : reading_.rows)
      names.insert(look_of(row.cell(one.index)));
    for (const SampleRow& row : reading_.rows) {
      const std::string_view left = row.cell(one.index);
      const std::string_view right = row.cell(other.index);
      if (left.empty() || right.empty() || look_of(left) == look_of(right) ||
          !(of_one_head || names.contains(look_of(right))))
        continue;
      throw InputError({Problem{
          sheet_.source, row.row->line, other.index + 1, other.head,
          fmt::format("the animal {} beside the animal {} in one row", in_quotes(right),
                      in_quotes(left)),
          "one animal a row; or the counts before and after in two sheets or files, each with the "
          "animals' names, which are then found by name"}});
    }
  }

  /// Whether `differ` holds of two columns of counts of one time and kind.
  template <typename Differ> bool any_counts_of_one_time(const Differ& differ) const {
    const auto counts = reading_.counts();
    for (std::size_t i = 0; i < counts.size(); ++i)
      for (std::size_t j = 0; j < i; ++j)
        if (say_one_time(counts[i]->time, counts[j]->time) && counts[i]->unit == counts[j]->unit &&
            counts[i]->worm == counts[j]->worm && differ(*counts[i], *counts[j]))
          return true;
    return false;
  }

  bool counts_come_twice() const {
    return any_counts_of_one_time([](const auto&, const auto&) { return true; });
  }

  /// Whether the same counts come more than once, under different names.
  bool counts_stand_by_groups() const {
    return any_counts_of_one_time(
        [](const ColumnReading& a, const ColumnReading& b) { return a.label != b.label; });
  }

  bool has_counts_between(const ColumnReading& a, const ColumnReading& b) const {
    const std::size_t left = std::min(a.index, b.index);
    const std::size_t right = std::max(a.index, b.index);
    return std::ranges::any_of(reading_.counts(), [&](const ColumnReading* count) {
      return left < count->index && count->index < right;
    });
  }

  /// Or the untreated animals would be judged as drenched, and prove any drench dead.
  void refuse_almost_role() {
    if (reading_.attribute("role") != nullptr)
      return;
    for (const ColumnReading& column : reading_.columns)
      if (column.kind == Kind::unused && edit_distance(lower_case(column.head), "role") == 1)
        problems_.add({sheet_.source, reading_.header_line, column.index + 1, column.head,
                       in_quotes(column.head), "role, if that is meant, or a name less like it"});
  }

  /// A table in our own words is held to them.
  bool header_is_not_ours() const {
    return !std::ranges::any_of(reading_.columns, [](const ColumnReading& column) {
      return column.head == "group" || column.head == "eggs_before" || column.head == "epg_before";
    });
  }

  void make_date(ColumnReading& column) {
    column.kind = Kind::attribute;
    column.name = column.time.occasion == Occasion::after || column.time.place == 2 ? "date_after"
                  : column.time.occasion || column.time.place                       ? "date_before"
                                                                                    : "date";
  }

  void take_role(ColumnReading& column) {
    if (column.name != "group") {
      column.kind = Kind::attribute;
      column.name = "role";
      return;
    }
    log_.tell(fmt::format("{}: the groups of {} are called by their roles, treated and untreated",
                          sheet_.source.shown(), in_quotes(column.head)));
    ColumnReading role = column;
    role.name = "role";
    also_.push_back(std::move(role));
  }

  /// With the row's first words, which may say more than it seems.
  void passed(const std::string& what, const TableRow& row) {
    const auto first =
        std::ranges::find_if(row.cells, [](const auto& cell) { return !cell.empty(); });
    std::string lines = fmt::format("{} ({})", sheet_.source.line(row.line), in_quotes(*first));
    if (sounds_untreated(*first))
      of_untreated_.push_back(lines);
    auto found = std::ranges::find(passed_, what, [](const auto& each) { return each.first; });
    if (found == passed_.end())
      found = passed_.insert(passed_.end(), {what, {}});
    found->second.push_back(std::move(lines));
  }

  void tell_passed_over() {
    reading_.columns.insert(reading_.columns.end(), also_.begin(), also_.end()); // no twins of them
    constexpr std::size_t most_listed = 8;
    for (const auto& [what, lines] : passed_) {
      std::string list;
      for (std::size_t i = 0; i < std::min(lines.size(), most_listed); ++i)
        list += (i == 0 ? "" : ", ") + lines[i];
      if (lines.size() > most_listed)
        list += fmt::format(" and {} more", lines.size() - most_listed);
      std::string line =
          fmt::format("{}: passed over, as {}: {}", sheet_.source.shown(), what, list);
      if (what == "titles")
        log_.add(std::move(line));
      else
        log_.tell(std::move(line));
    }
    if (!of_untreated_.empty())
      log_.tell(
          fmt::format("{}: what was passed over speaks of untreated animals: {} (if they are a "
                      "group here, ",
                      sheet_.source.shown(), fmt::join(of_untreated_, ", ")) +
          Mention{Setting::control} + " names it)");
  }

  const RawSheet& sheet_;
  const Layout& layout_;
  Problems& problems_;
  ReadingLog& log_;
  SheetReading reading_;
  /// Columns of counts by their heads, which every row is held against; look_into_cells() may then
  /// make something else of one.
  std::vector<const ColumnReading*> counts_;
  std::vector<Title> titles_;
  std::vector<const TableRow*> split_rows_;   ///< With more cells than the header.
  std::vector<const TableRow*> unclear_sums_; ///< Called as sums are, of other numbers.
  /// Beside an animal's name, a word for sums that its numbers do not bear out, or only might.
  std::vector<const TableRow*> unclear_words_;
  std::optional<Title> above_header_; ///< Alone in the row above it.
  UnlabelledSums sums_{reading_, layout_};
  std::size_t sums_end_ = 0;        ///< The line below the last sums.
  std::vector<ColumnReading> also_; ///< Second meanings of columns.
  std::vector<std::pair<std::string, std::vector<std::string>>> passed_;
  std::vector<std::string> of_untreated_; ///< Those of them that speak of untreated animals.
};

} // namespace

const ColumnReading* SheetReading::attribute(std::string_view name) const {
  const ColumnReading* found = nullptr;
  for (const ColumnReading& column : columns)
    if (column.kind == Kind::attribute && column.name == name &&
        (found == nullptr || (column.by_layout && !found->by_layout)))
      found = &column;
  return found;
}

bool SheetReading::tells(std::string_view name) const {
  const ColumnReading* const column = attribute(name);
  return column != nullptr && std::ranges::any_of(rows, [&](const SampleRow& row) {
           return !trimmed(row.cell(column->index)).empty();
         });
}

bool SheetReading::numbers_rows(const ColumnReading& column) const {
  constexpr std::size_t least = 3;
  std::size_t next = 0;
  return rows.size() >= least && std::ranges::all_of(rows, [&](const SampleRow& row) {
           return row.cell(column.index) == fmt::format("{}", ++next);
         });
}

const ColumnReading* SheetReading::when() const {
  const auto found = std::ranges::find(columns, Kind::when, &ColumnReading::kind);
  return found == columns.end() ? nullptr : &*found;
}

std::vector<const ColumnReading*> SheetReading::counts() const {
  // What its owner names stands in place of what could be taken for the same.
  const auto stands_for = [](const ColumnReading& named, const ColumnReading& other) {
    return named.kind == Kind::count && named.by_layout && named.worm == other.worm &&
           (named.time.day ? named.time.day == other.time.day
                           : !named.time.occasion || named.time.occasion == other.time.occasion);
  };
  const auto is_named = [&](Occasion occasion) {
    return std::ranges::any_of(columns, [&](const ColumnReading& column) {
      return column.kind == Kind::count && column.by_layout && column.worm.empty() &&
             column.time.occasion == occasion;
    });
  };
  const bool both = is_named(Occasion::before) && is_named(Occasion::after);
  std::vector<const ColumnReading*> found;
  for (const ColumnReading& column : columns) {
    if (column.kind != Kind::count)
      continue;
    const bool replaced =
        !column.by_layout && ((both && column.worm.empty()) ||
                              std::ranges::any_of(columns, [&](const ColumnReading& each) {
                                return stands_for(each, column);
                              }));
    if (!replaced)
      found.push_back(&column);
  }
  return found;
}

std::optional<SheetReading> read_sheet_columns(const RawSheet& sheet, const Layout& layout,
                                               Problems& problems, ReadingLog& log) {
  return SheetReader(sheet, layout, problems, log).read();
}

} // namespace eggfall
