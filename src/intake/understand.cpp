#include "intake/understand.hpp"

#include "base/problems.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "formats/raw_sheets.hpp"
#include "intake/count_cell.hpp"
#include "intake/counts_rows.hpp"
#include "intake/day_of_one_sample.hpp"
#include "intake/dose_units.hpp"
#include "intake/group_names.hpp"
#include "intake/header_row.hpp"
#include "intake/join_sheets.hpp"
#include "intake/kinds_at_odds.hpp"
#include "intake/open_question.hpp"
#include "intake/raw_animals.hpp"
#include "intake/reading_log.hpp"
#include "intake/settle_attributes.hpp"
#include "intake/settle_counts.hpp"
#include "intake/sheet_reading.hpp"
#include "intake/unlabelled_sums.hpp"
#include "intake/untreated_groups.hpp"
#include "trial/header_cells.hpp"
#include "trial/trial_columns.hpp"
#include "trial/trial_time.hpp"
#include "trial/trials_of.hpp"
#include "trial/visits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <deque>
#include <exception>
#include <iterator>
#include <map>
#include <set>
#include <utility>

namespace eggfall {
namespace {

/// Whether a header is in our own words: a group, an animal and a count of ours.
bool is_our_header(const TableRow& header) {
  bool group = false;
  bool animal = false;
  bool count = false;
  for (const std::string& cell : header.cells) {
    const std::string key = header_key(cell);
    group = group || key == "group";
    animal = animal || key == "animal";
    count = count || key.starts_with("eggs_before") || key.starts_with("epg_before") ||
            key.starts_with("eggs_after") || key.starts_with("epg_after");
  }
  return group && animal && count;
}

/// Whether a head in our own words names a visit on no day after treatment: read by its words alone
/// it would be a sample before.
bool names_impossible_visit(const TableRow& header) {
  return std::ranges::any_of(header.cells, [](const std::string& cell) {
    const std::string key = header_key(cell);
    for (const std::string_view start : {"eggs_day:", "epg_day:", "factor_day:"})
      if (key.starts_with(start))
        return !visit_day(key.substr(start.size())).has_value();
    return false;
  });
}

/// Whether an animal is called as sums are, "Total for mob": its numbers tell what it is, and they
/// are looked at where tables of any form are read.
bool has_named_sums(const TrialTable& table) {
  for (const Trial& trial : table.trials)
    for (const Group& group : trial.groups)
      if (std::ranges::any_of(group.animals,
                              [](const Animal& animal) { return names_a_sum(animal.tag); }))
        return true;
  return false;
}

/// Whether doses and weights stand in a table whose label's rate was not read.
bool lacks_label_rate(const TrialTable& table) {
  for (const Trial& trial : table.trials)
    for (const Group& group : trial.groups)
      if (std::ranges::any_of(group.animals, [](const Animal& animal) {
            return animal.dose_ml && animal.weight_kg && !animal.label_ml_per_kg;
          }))
        return true;
  return false;
}

/// All days of visits in a table, each once.
std::set<int> days_of_visits(const TrialTable& table) {
  std::set<int> days;
  for (const Trial& trial : table.trials)
    for (const Group& group : trial.groups)
      for (const int day : visit_days(group))
        days.insert(day);
  return days;
}

/// The visit whose day is said; nothing if it is said in other words than a number of days.
/// @throws InputError for the day of no visit, here where the visits are known.
std::optional<int> visit_said(const std::set<int>& days, const Source& source,
                              const Layout& layout) {
  std::string_view said = *layout.day_after;
  if (said.starts_with("day "))
    said.remove_prefix(4);
  const auto number = parse_whole_number(said);
  if (!number)
    return std::nullopt;
  for (const int day : days)
    if (std::cmp_equal(day, *number))
      return day;
  refuse_setting(
      Setting::day_after, in_quotes(*layout.day_after),
      fmt::format("the day of one of the visits in {}: {}", source.shown(), fmt::join(days, ", ")));
}

/// Whether all samples after treatment are of visits, so that one of them can stand for the test's.
bool has_visits_alone(const TrialTable& table) {
  return std::ranges::none_of(table.trials, [](const Trial& trial) {
    return std::ranges::any_of(trial.groups, has_own_after);
  });
}

/// The samples of that visit are the test's own, and the other visits are left out.
void take_visit(TrialTable& table, int day) {
  for (Trial& trial : table.trials)
    for (Group& group : trial.groups) {
      group = on_visit(group, day);
      group.day_after.reset();
      for (Animal& animal : group.animals) {
        animal.visits.clear();
        if (animal.after && !animal.date_after)
          animal.days_after = day;
      }
    }
}

/// A layout that changes even what a table in our own form says.
bool overrules_our_form(const Layout& layout) {
  return !layout.columns.empty() || layout.mean_of;
}

class TableReader {
public:
  TableReader(const ReadOptions& options, const Layout& layout)
      : options_(options), layout_(layout) {}

  /// A table in our own form is done with; any other waits for read_others().
  void take(const TableBytes& table) {
    ReadOptions options = options_;
    options.trial_name = table.trial_name;
    std::exception_ptr refused;
    std::optional<TrialTable> with_visits;
    std::set<int> visits;
    if (!overrules_our_form(layout_)) {
      try {
        TrialTable strict = read_trials(table.bytes, table.source, options);
        // The day that is said is not for this reader, who takes all visits for what they are.
        if (layout_.day_after)
          visits = days_of_visits(strict);
        const bool done =
            !has_named_sums(strict) && !(lacks_label_rate(strict) && speaks_of_label(table));
        if (done && !visits.empty() && has_visits_alone(strict))
          with_visits = std::move(strict);
        else if (done && visits.empty()) {
          add(std::move(strict), table.source);
          return;
        }
      } catch (const InputError&) {
        refused = std::current_exception();
      }
    }
    if (!visits.empty())
      if (const auto day = visit_said(visits, table.source, layout_); day && with_visits) {
        add_on_visit(std::move(*with_visits), visits, *day, table.source);
        return;
      }
    take_apart(table, refused);
  }

  UnderstoodTables finish() {
    if (!sheets_.empty()) {
      try {
        read_others();
      } catch (const OpenQuestion&) {
        throw;
      } catch (const InputError&) {
        if (refused_)
          std::rethrow_exception(refused_);
        throw;
      }
    }
    result_.told = log_.told();
    result_.all = log_.all();
    const std::vector<std::string> told = texts_of(result_.all);
    for (Trial& trial : result_.table.trials)
      if (understood_.contains(trial.name))
        trial.reading.insert(trial.reading.begin(), told.begin(), told.end());
    return std::move(result_);
  }

private:
  /// Whether a head that is none of ours speaks of the label's rate, as "Label mL/10 kg" does
  /// beside our own heads.
  bool speaks_of_label(const TableBytes& table) const {
    const RawBook book = read_raw(table.bytes, table.source);
    if (book.sheets.empty() || book.sheets[0].rows.empty())
      return false;
    return std::ranges::any_of(book.sheets[0].rows[0].cells, [&](const std::string& head) {
      return label_head(head, layout_.words()) != LabelHead::none;
    });
  }

  void add_on_visit(TrialTable table, std::set<int> visits, int day, const Source& source) {
    take_visit(table, day);
    visits.erase(day);
    std::string others;
    for (const int other : visits)
      others +=
          fmt::format("{}{}", others.empty() ? "; not used: the visits of day " : ", ", other);
    log_.tell(fmt::format("{}: the samples after treatment are those of the visit of day {}{}",
                          source.shown(), day, others));
    for (const Trial& trial : table.trials)
      understood_.insert(trial.name);
    add(std::move(table), source);
  }

  /// A trial may not come in two tables.
  void add(TrialTable table, const Source& source) {
    for (const Trial& trial : table.trials)
      if (!names_.insert(identity_of(trial)).second)
        refuse_trial_again(source, trial.name);
    std::ranges::move(table.trials, std::back_inserter(result_.table.trials));
    std::ranges::move(table.notes, std::back_inserter(result_.table.notes));
  }

  /// @param refused by the reader of counts tables; null if it was not asked.
  void take_apart(const TableBytes& table, const std::exception_ptr& refused) {
    try {
      books_.push_back(read_raw(table.bytes, table.source));
    } catch (const InputError&) {
      if (refused)
        std::rethrow_exception(refused);
      throw;
    }
    const RawBook& book = books_.back();
    const bool ours = !book.sheets.empty() && !book.sheets[0].rows.empty() &&
                      is_our_header(book.sheets[0].rows[0]);
    if (ours && refused && names_impossible_visit(book.sheets[0].rows[0]))
      std::rethrow_exception(refused);
    if (ours && refused && !refused_)
      refused_ = refused;
    if (!book.encoding.empty() && book.encoding != "UTF-8")
      log_.tell(fmt::format("{}: read as a text in {}", table.source.shown(), book.encoding));
    std::vector<std::string> without;
    std::size_t found = 0;
    for (const RawSheet& sheet : book.sheets) {
      if (auto reading = read_sheet_columns(sheet, layout_, problems_, log_)) {
        sheets_.push_back(std::move(*reading));
        tables_.push_back(&table);
        ++found;
      } else {
        without.push_back(sheet.source.is_sheet() ? sheet.source.sheet : sheet.source.name);
      }
    }
    problems_.throw_if_any();
    if (found == 0 && ours && refused)
      std::rethrow_exception(refused);
    if (found == 0)
      refuse_without_counts(table, book);
    if (!without.empty())
      log_.tell(fmt::format("{}: no counts in {} {}", table.source.name,
                            without.size() == 1 ? "the sheet" : "the sheets",
                            quoted_list(without, 12)));
  }

  /// Heads of counts may stand above cells that are none, "6 x 50": then the first is the problem.
  void refuse_unreadable_counts(const RawBook& book) const {
    for (const RawSheet& sheet : book.sheets) {
      const auto header = find_header(sheet, layout_);
      if (!header)
        continue;
      std::vector<ColumnReading> counts = read_heads(sheet.rows[*header], {}, layout_);
      std::erase_if(counts, [](const ColumnReading& column) {
        return column.kind != ColumnReading::Kind::count;
      });
      if (counts.size() < 2)
        continue;
      std::optional<Problem> first;
      bool any_count = false; // of rows that were passed over as sums
      for (std::size_t i = *header + 1; i < sheet.rows.size(); ++i)
        for (const ColumnReading& column : counts) {
          const std::string_view cell = SampleRow{&sheet.rows[i], {}}.cell(column.index);
          const CountCell::Says says = read_count_cell(cell, layout_).says;
          any_count =
              any_count || (says != CountCell::Says::nothing && says != CountCell::Says::no_count);
          if (says == CountCell::Says::no_count && !first)
            first = Problem{sheet.source,
                            sheet.rows[i].line,
                            column.index + 1,
                            column.head,
                            in_quotes(cell),
                            "one number of eggs or EPG, such as 12, 350 or <50, in some cell of a "
                            "column of counts (empty: not sampled)"};
        }
      if (first && !any_count)
        throw InputError({*first});
    }
  }

  [[noreturn]] void refuse_without_counts(const TableBytes& table, const RawBook& book) const {
    refuse_unreadable_counts(book);
    constexpr std::size_t most_listed = 12;
    const TableRow* widest = nullptr;
    for (const RawSheet& sheet : book.sheets)
      for (const TableRow& row : sheet.rows)
        if (widest == nullptr || row.cells.size() > widest->cells.size())
          widest = &row;
    std::vector<std::string> cells;
    if (widest != nullptr)
      std::ranges::copy_if(widest->cells, std::back_inserter(cells),
                           [](const std::string& cell) { return !cell.empty(); });
    throw InputError({Problem{
        table.source,
        widest != nullptr ? widest->line : 0,
        0,
        {},
        widest != nullptr ? fmt::format("no header with a column of counts; the widest row is {}",
                                        quoted_list(cells, most_listed))
                          : "no rows",
        "a header such as animal, group, EPG before, EPG after; or what the columns are called: " +
            Wording({Mention{Setting::column, "animal=THEIRS"},
                     Mention{Setting::column, "epg_before=THEIRS"},
                     Mention{Setting::column, "epg_after=THEIRS"}})}});
  }

  /// A column that the owner names must be in one of the tables, or what it was to tell would be
  /// read from another in silence; and it can be one thing alone.
  void refuse_unknown_columns() const {
    std::map<std::string, std::string> ours_of;
    for (const auto& [ours, theirs] : layout_.columns) {
      const auto [found, fresh] = ours_of.emplace(look_of(theirs), ours);
      if (!fresh)
        refuse_setting(
            Setting::column,
            fmt::format("{} both for {} and for {}", in_quotes(theirs), found->second, ours),
            "one meaning of a column");
      if (std::ranges::none_of(sheets_, [&theirs = theirs](const SheetReading& each) {
            return has_head(each, theirs);
          }))
        refuse_setting(Setting::column, fmt::format("{} for {}", in_quotes(theirs), ours),
                       "a head of the table: " + heads_of_all());
    }
  }

  static bool has_head(const SheetReading& reading, const std::string& theirs) {
    return std::ranges::any_of(reading.columns, [&](const ColumnReading& column) {
      const std::string look = look_of(column.head);
      return column.by_layout && look.ends_with(look_of(theirs));
    });
  }

  std::string heads_of_all() const {
    constexpr std::size_t most_listed = 12;
    std::vector<std::string> heads;
    for (const SheetReading& each : sheets_)
      for (const ColumnReading& column : each.columns)
        if (!column.head.empty() && std::ranges::find(heads, column.head) == heads.end())
          heads.push_back(column.head);
    return quoted_list(heads, most_listed);
  }

  void read_others() {
    refuse_unknown_columns();
    const std::optional<DateOrder> order = date_order_of(sheets_, layout_, log_);
    std::vector<NamedSheet> named;
    for (std::size_t i = 0; i < sheets_.size(); ++i) {
      const Source& source = sheets_[i].sheet->source;
      const std::string& name = tables_[i]->trial_name;
      named.push_back({name, source.is_sheet() ? source.sheet : name, animals_of_sheet(i, order)});
    }
    problems_.throw_if_any();
    const bool one_table =
        sheets_.size() > 1 && std::ranges::all_of(tables_, [&](const TableBytes* each) {
          return each == tables_.front();
        });
    if (one_table)
      keep_whole_sheets(named);
    std::vector<JoinedAnimals> all =
        joined_sheets(std::move(named), layout_, order, problems_, log_);
    problems_.throw_if_any();
    for (JoinedAnimals& joined : all)
      read_joined(joined, order);
  }

  /// A question about one of several sheets of a workbook, such as the means of a summary, may be
  /// answered by reading another alone.
  SheetAnimals animals_of_sheet(std::size_t index, std::optional<DateOrder> order) {
    try {
      return animals_of(sheets_[index], layout_, order, problems_, log_);
    } catch (const OpenQuestion& question) {
      std::vector<LayoutAnswer> answers = question.answers();
      for (std::size_t i = 0; i < sheets_.size(); ++i)
        if (const Source& other = sheets_[i].sheet->source;
            i != index && tables_[i] == tables_[index] && other.is_sheet())
          answers.push_back(
              answer("sheet", other.sheet, "if the trial is in that sheet, and it is read alone"));
      if (answers.size() == question.answers().size())
        throw;
      throw OpenQuestion(question.problems().front(), std::move(answers));
    }
  }

  /// Of a workbook with several sheets of both times, the first is read, as of any workbook; others
  /// are told, with the option that reads them.
  void keep_whole_sheets(std::vector<NamedSheet>& sheets) {
    const auto whole = [](const NamedSheet& each) { return each.sheet.occasions.size() == 2; };
    const auto first = std::ranges::find_if(sheets, whole);
    if (first == sheets.end())
      return;
    ask_for_sheets(sheets);
    std::vector<std::string> others;
    for (const NamedSheet& each : sheets)
      if (&each != &*first)
        others.push_back(each.table);
    log_.tell(fmt::format("{}: the sheet {} is read; {} {} counts too (", first->sheet.source.name,
                          in_quotes(first->table), quoted_list(others, 12),
                          others.size() == 1 ? "has" : "have") +
              Mention{Setting::sheet} + " reads another)");
    NamedSheet kept = std::move(*first);
    sheets.clear();
    sheets.push_back(std::move(kept));
  }

  /// Whole tables without groups may be a group each, or other trials.
  static void ask_for_sheets(const std::vector<NamedSheet>& sheets) {
    std::vector<std::string> names;
    for (const NamedSheet& each : sheets)
      if (each.sheet.occasions.size() == 2 && !each.sheet.has_groups)
        names.push_back(each.table);
    if (names.size() < 2)
      return;
    constexpr std::size_t most_listed = 12;
    throw OpenQuestion(
        {sheets.front().sheet.source.name,
         0,
         0,
         {},
         fmt::format("{} sheets of counts, {}, that say nothing of groups", names.size(),
                     quoted_list(names, most_listed)),
         {}},
        {answer("sheet", fmt::format("{}", fmt::join(names, ",")), "a group of one trial each"),
         answer("sheet", names.front(), "one of them alone")});
  }

  /// Before the cells are read: no factor helps half a trial.
  void refuse_half(const JoinedAnimals& joined) const {
    std::set<Occasion> occasions;
    std::set<std::string> years;
    std::string head;
    for (const RawAnimal& animal : joined.animals) {
      if (const auto year = animal.attributes.find("year"); year != animal.attributes.end())
        years.insert(year->second.text);
      for (const auto& [key, count] : animal.counts) {
        occasions.insert(key.time.occasion);
        head = count.cell.head;
      }
    }
    if (options_.needed == NeededCounts::before || occasions.size() != 1)
      return;
    const std::string_view other = occasions.contains(Occasion::before)
                                       ? to_string(Occasion::after)
                                       : to_string(Occasion::before);
    throw InputError({Problem{
        joined.source,
        0,
        0,
        {},
        fmt::format("counts of one time alone, under {}", in_quotes(head)),
        "counts before treatment and after: name the file or sheet of the other time too, or the "
        "column here (" +
            Mention{Setting::column, fmt::format("epg_{}=THEIRS", other)} +
            "); or, if another column tells the time of each row, that one (" +
            Mention{Setting::column, "when=THEIRS"} + ", with " +
            Mention{Setting::day_before, "WORD"} + " and " + Mention{Setting::day_after, "WORD"} +
            ")" +
            (years.size() > 1 ? "; rows of other years are other tests here: of one over New Year, "
                                "write one year in all its rows"
                              : "")}});
  }

  void refuse_without_group(const JoinedAnimals& joined) {
    const RawAnimal* first = nullptr;
    std::size_t rows = 0;
    for (const RawAnimal& animal : joined.animals)
      if (animal.group.empty()) {
        first = first == nullptr ? &animal : first;
        ++rows;
      }
    if (first != nullptr)
      problems_.add(
          {first->tag.source, first->tag.line, 0, "group",
           fmt::format("nothing that says the group of {} animal{}", rows, rows == 1 ? "" : "s"),
           "a name in each row; untreated, for animals that had no drench"});
    problems_.throw_if_any();
  }

  /// Where other rows name a farm, such animals would be of a trial of their own, called as the
  /// file, and two farms' animals of one tag the same animal twice.
  void refuse_without_trial(const JoinedAnimals& joined) {
    const auto tells = [](const RawAnimal& animal, const char* name) {
      return animal.attributes.contains(name);
    };
    const auto farm_told = [&](const RawAnimal& animal) { return tells(animal, "farm"); };
    const RawAnimal* first = nullptr;
    std::size_t rows = 0;
    for (const RawAnimal& animal : joined.animals)
      if (!tells(animal, "trial") && !tells(animal, "farm")) {
        first = first == nullptr ? &animal : first;
        ++rows;
      }
    if (first == nullptr || rows == joined.animals.size())
      return;
    const char* const name = std::ranges::any_of(joined.animals, farm_told) ? "farm" : "trial";
    problems_.add({first->tag.source, first->tag.line, 0, name,
                   fmt::format("nothing that says the {} of {} animal{}, where other rows say it",
                               name, rows, rows == 1 ? "" : "s"),
                   "it in every row, or at the head of its rows alone"});
    problems_.throw_if_any();
  }

  void read_joined(JoinedAnimals& joined, std::optional<DateOrder> order) {
    refuse_half(joined);
    if (std::ranges::any_of(joined.animals,
                            [](const RawAnimal& animal) { return animal.group == only_group; }))
      log_.tell(fmt::format("{}: nothing tells groups apart: all animals are taken for one treated "
                            "group",
                            joined.source.shown()));
    keep_day_of_one_sample(joined.animals, layout_.words(), problems_);
    ask_for_kinds_at_odds(joined.animals, layout_);
    settle_counts(joined.animals, joined.around, layout_, options_, problems_, log_, joined.notes);
    settle_attributes(joined.animals, layout_, order, problems_, log_);
    refuse_without_group(joined);
    refuse_without_trial(joined);
    take_treated(joined.animals, layout_);
    if (!refused_)
      take_control_by_name(joined.animals, layout_, options_, log_);
    take_no_doses(joined.animals, options_, log_);
    refuse_silent_controls(joined.animals, layout_, options_, problems_);
    problems_.throw_if_any();
    ReadOptions options = options_;
    options.trial_name = joined.name;
    TrialTable table = trials_of(counts_rows(joined, log_), options);
    for (const Trial& trial : table.trials)
      understood_.insert(trial.name);
    add(std::move(table), joined.source);
  }

  const ReadOptions& options_;
  const Layout& layout_;
  Problems problems_;
  ReadingLog log_;
  std::deque<RawBook> books_; ///< Of which the readings point into.
  std::vector<SheetReading> sheets_;
  std::vector<const TableBytes*> tables_; ///< That the sheets are of.
  std::set<std::string> names_;           ///< Of all trials so far.
  std::set<std::string> understood_;      ///< Of those whose tables were not in our own form.
  std::exception_ptr refused_;            ///< By a table in our own words.
  UnderstoodTables result_;
};

} // namespace

UnderstoodTables understand_tables(const std::vector<TableBytes>& tables,
                                   const ReadOptions& options, const Layout& layout) {
  TableReader reader(options, layout);
  for (const TableBytes& table : tables)
    reader.take(table);
  return reader.finish();
}

} // namespace eggfall
