#include "intake/understand.hpp"

#include "base/problems.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "formats/raw_sheets.hpp"
#include "intake/counts_rows.hpp"
#include "intake/group_names.hpp"
#include "intake/join_sheets.hpp"
#include "intake/open_question.hpp"
#include "intake/raw_animals.hpp"
#include "intake/reading_log.hpp"
#include "intake/settle_attributes.hpp"
#include "intake/settle_counts.hpp"
#include "intake/sheet_reading.hpp"
#include "trial/drug_words.hpp"
#include "trial/header_cells.hpp"
#include "trial/name_words.hpp"
#include "trial/trials_of.hpp"

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
    if (!overrules_our_form(layout_)) {
      try {
        add(read_trials(table.bytes, table.source, options), table.source);
        return;
      } catch (const InputError&) {
        refused = std::current_exception();
      }
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
    for (Trial& trial : result_.table.trials)
      if (understood_.contains(trial.name))
        trial.reading = result_.all;
    return std::move(result_);
  }

private:
  struct ReadSheet {
    const TableBytes* table;
    SheetReading reading;
  };

  /// A trial may not come in two tables.
  void add(TrialTable table, const Source& source) {
    for (const Trial& trial : table.trials)
      if (!names_.insert(trial.name).second)
        throw InputError({Problem{source,
                                  0,
                                  0,
                                  {},
                                  "a trial " + in_quotes(trial.name) + " again",
                                  "each trial in one table only (a column trial names them)"}});
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
    if (ours && refused && !refused_)
      refused_ = refused;
    if (!book.encoding.empty() && book.encoding != "UTF-8")
      log_.tell(fmt::format("{}: read as a text in {}", table.source.shown(), book.encoding));
    std::vector<std::string> without;
    std::size_t found = 0;
    for (const RawSheet& sheet : book.sheets) {
      if (auto reading = read_sheet_columns(sheet, layout_, problems_, log_)) {
        sheets_.push_back({&table, std::move(*reading)});
        ++found;
      } else {
        without.push_back(sheet.source.is_sheet() ? sheet.source.sheet : sheet.source.name);
      }
    }
    problems_.throw_if_any();
    if (found == 0)
      refuse_without_counts(table, book, refused);
    if (!without.empty())
      log_.tell(fmt::format("{}: no counts in {} {}", table.source.name,
                            without.size() == 1 ? "the sheet" : "the sheets",
                            quoted_list(without, 12)));
  }

  [[noreturn]] void refuse_without_counts(const TableBytes& table, const RawBook& book,
                                          const std::exception_ptr& refused) const {
    if (refused && !book.sheets.empty() && !book.sheets[0].rows.empty() &&
        is_our_header(book.sheets[0].rows[0]))
      std::rethrow_exception(refused);
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
        "a header such as animal, group, EPG before, EPG after; or what the columns are called: "
        "--column animal=THEIRS --column epg_before=THEIRS --column epg_after=THEIRS"}});
  }

  /// A column that the owner names must be in one of the tables, or what it was to tell would be
  /// read from another in silence; and it can be one thing alone.
  void refuse_unknown_columns() const {
    std::map<std::string, std::string> ours_of;
    for (const auto& [ours, theirs] : layout_.columns) {
      const auto [at, fresh] = ours_of.emplace(look_of(theirs), ours);
      if (!fresh)
        throw InputError(fmt::format("--column: found {} both for {} and for {}; expected one "
                                     "meaning of a column",
                                     in_quotes(theirs), at->second, ours));
      if (std::ranges::none_of(sheets_, [&theirs = theirs](const ReadSheet& each) {
            return has_head(each.reading, theirs);
          }))
        throw InputError(fmt::format("--column: found {} for {}; expected a head of the table: {}",
                                     in_quotes(theirs), ours, heads_of_all()));
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
    for (const ReadSheet& each : sheets_)
      for (const ColumnReading& column : each.reading.columns)
        if (!column.head.empty() && std::ranges::find(heads, column.head) == heads.end())
          heads.push_back(column.head);
    return quoted_list(heads, most_listed);
  }

  void read_others() {
    refuse_unknown_columns();
    std::vector<SheetReading> readings;
    for (const ReadSheet& each : sheets_)
      readings.push_back(each.reading);
    const std::optional<DateOrder> order = date_order_of(readings, layout_, log_);
    std::vector<NamedSheet> named;
    for (const ReadSheet& each : sheets_) {
      const Source& source = each.reading.sheet->source;
      named.push_back({each.table->trial_name,
                       source.is_sheet() ? source.sheet : each.table->trial_name,
                       animals_of(each.reading, layout_, order, problems_, log_)});
    }
    problems_.throw_if_any();
    const bool one_table =
        sheets_.size() > 1 && std::ranges::all_of(sheets_, [&](const auto& each) {
          return each.table == sheets_.front().table;
        });
    if (one_table)
      keep_whole_sheets(named);
    std::vector<JoinedAnimals> all =
        joined_sheets(std::move(named), layout_, order, problems_, log_);
    problems_.throw_if_any();
    for (JoinedAnimals& joined : all)
      read_joined(joined, order);
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
    log_.tell(fmt::format("{}: the sheet {} is read; {} {} counts too (--sheet reads another)",
                          first->sheet.source.name, in_quotes(first->table),
                          quoted_list(others, 12), others.size() == 1 ? "has" : "have"));
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
    std::string head;
    for (const RawAnimal& animal : joined.animals)
      for (const auto& [key, count] : animal.counts) {
        occasions.insert(key.occasion);
        head = count.cell.head;
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
        fmt::format("counts before treatment and after: name the file or sheet of the other time "
                    "too, or the column here (--column epg_{}=THEIRS)",
                    other)}});
  }

  /// By a word of any language, or by a mark for nothing where a drench would stand.
  bool says_untreated(const std::string& group) const {
    return sounds_untreated(group) || layout_.words().role(group) == Role::control ||
           has_untreated_word(group) || layout_.words().cell(group) == CellWord::two_readings ||
           group == "0" || layout_.words().yes_or_no(group) == false;
  }

  /// A word of a longer name, "Kontrolle unbehandelt". Short words for nothing, and water, stand in
  /// names of paddocks too.
  bool has_untreated_word(const std::string& group) const {
    constexpr std::size_t shortest = 6;
    const std::string words = plain_words(group);
    for (std::size_t start = 0; start < words.size();) {
      const std::size_t end = std::min(words.find(' ', start), words.size());
      const std::string word = words.substr(start, end - start);
      if (word.size() >= shortest && word.size() < words.size() &&
          layout_.words().role(word) == Role::control)
        return true;
      start = end + 1;
    }
    return false;
  }

  /// In a table of its owner's own form, one group that is called control and no more is the
  /// control. (Our own form has a column for it, and asks.)
  void take_control_by_name(JoinedAnimals& joined) {
    std::set<std::string> called;
    for (const RawAnimal& animal : joined.animals) {
      const auto role = animal.attributes.find("role");
      if (role != animal.attributes.end() && role->second.text == to_string(Role::control))
        return;
      if (role == animal.attributes.end() && layout_.words().role(animal.group) == Role::control &&
          plain_words(animal.group).size() > 4)
        called.insert(animal.group);
    }
    if (refused_ || !options_.control.empty() || called.size() != 1)
      return;
    const std::string& name = *called.begin();
    for (RawAnimal& animal : joined.animals)
      if (animal.group == name)
        animal.attributes["role"] = RawCell{
            std::string(to_string(Role::control)), animal.tag.source, animal.tag.line, 0, {}};
    log_.tell(fmt::format("the group {} is taken for the untreated control ({}, if it was treated)",
                          in_quotes(name), as_option({"treated", name})));
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

  /// "C" is a control beside "T" or a drench by its name, and a group like others beside "A" and
  /// "B".
  static bool others_are_drenched(const JoinedAnimals& joined) {
    return std::ranges::any_of(joined.animals, [](const RawAnimal& animal) {
      return look_of(animal.group) == "t" || !substances_in(animal.group).empty();
    });
  }

  /// The reader of counts tables knows "control" and its like in the name of a group; "Ctrl" and
  /// "Kontrolle" it would judge as drenched.
  void refuse_silent_controls(const JoinedAnimals& joined) {
    if (options_.needed != NeededCounts::before_and_after)
      return;
    std::set<std::string> with_role; // one row of a group says it for all
    for (const RawAnimal& animal : joined.animals)
      if (animal.attributes.contains("role"))
        with_role.insert(animal.group);
    for (const RawAnimal& animal : joined.animals)
      if (animal.group != options_.control && !with_role.contains(animal.group) &&
          (says_untreated(animal.group) ||
           (look_of(animal.group) == "c" && others_are_drenched(joined))))
        problems_.add_once(
            "control " + animal.group,
            {animal.tag.source, animal.tag.line, 0, "role",
             fmt::format("no role for group {}, whose name says untreated",
                         in_quotes(animal.group)),
             fmt::format("control in its column role, or the option {}; {}, if it was treated",
                         as_option({"control", animal.group}),
                         as_option({"treated", animal.group}))});
  }

  void read_joined(JoinedAnimals& joined, std::optional<DateOrder> order) {
    refuse_half(joined);
    if (std::ranges::any_of(joined.animals,
                            [](const RawAnimal& animal) { return animal.group == only_group; }))
      log_.tell(fmt::format("{}: nothing tells groups apart: all animals are taken for one treated "
                            "group",
                            joined.source.shown()));
    settle_counts(joined.animals, joined.around, layout_, options_, problems_, log_);
    settle_attributes(joined.animals, layout_, order, problems_, log_);
    refuse_without_group(joined);
    for (RawAnimal& animal : joined.animals)
      if (std::ranges::find(layout_.treated, animal.group) != layout_.treated.end())
        animal.attributes["role"] = RawCell{
            std::string(to_string(Role::treated)), animal.tag.source, animal.tag.line, 0, {}};
    take_control_by_name(joined);
    refuse_silent_controls(joined);
    problems_.throw_if_any();
    tell_worms_of_one_time(joined);
    ReadOptions options = options_;
    options.trial_name = joined.name;
    TrialTable table = trials_of(counts_rows(joined, log_), options);
    for (const Trial& trial : table.trials)
      understood_.insert(trial.name);
    add(std::move(table), joined.source);
  }

  /// counts_rows() leaves them out.
  void tell_worms_of_one_time(const JoinedAnimals& joined) {
    std::map<std::string, std::set<Occasion>> times;
    for (const RawAnimal& animal : joined.animals)
      for (const auto& [key, count] : animal.counts)
        times[key.worm].insert(key.occasion);
    for (const auto& [worm, occasions] : times)
      if (!worm.empty() && occasions.size() == 1)
        log_.tell(fmt::format("{}: eggs of {} were told apart {} treatment alone, and are left out",
                              joined.source.shown(), in_quotes(worm),
                              to_string(*occasions.begin())));
  }

  const ReadOptions& options_;
  const Layout& layout_;
  Problems problems_;
  ReadingLog log_;
  std::deque<RawBook> books_; ///< Of which the readings point into.
  std::vector<ReadSheet> sheets_;
  std::set<std::string> names_;      ///< Of all trials so far.
  std::set<std::string> understood_; ///< Of those whose tables were not in our own form.
  std::exception_ptr refused_;       ///< By a table in our own words.
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
