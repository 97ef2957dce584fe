#include "intake/column_reading.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/trial/trial.hpp"
#include "intake/dose_units.hpp"
#include "intake/head_factor.hpp"
#include "trial/field_words.hpp"
#include "trial/header_cells.hpp"

#include "trial/trial_columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

using Kind = ColumnReading::Kind;

/// Attributes whose head is their word alone, the telling ones before those that go with others:
/// "Treatment group" is a group, "Sheep weight" a weight.
constexpr std::array<std::pair<HeadWord, std::string_view>, 15> attributes{{
    {HeadWord::factor, "factor"},
    {HeadWord::weight, "weight_kg"},
    {HeadWord::dose, "dose_ml"},
    {HeadWord::strength, "mg_per_ml"},
    {HeadWord::pool, "animals_in_pool"},
    {HeadWord::group, "group"},
    {HeadWord::role, "role"},
    {HeadWord::drug_class, "class"},
    {HeadWord::drench, "drench"},
    {HeadWord::animal, "animal"},
    {HeadWord::trial, "trial"},
    {HeadWord::farm, "farm"},
    {HeadWord::host, "host"},
    {HeadWord::region, "region"},
    {HeadWord::year, "year"},
}};

/// Whether a word with a number behind it names one of several of its kind: "Group 2", "Mob 1".
bool is_numbered_kind(HeadWord word) {
  return word == HeadWord::group || word == HeadWord::drench || word == HeadWord::farm ||
         word == HeadWord::trial || word == HeadWord::region || word == HeadWord::treated ||
         word == HeadWord::pool;
}

/// "Group 2" as one name, where it stands beside words of another meaning.
std::vector<HeadPiece> with_numbered_names(std::vector<HeadPiece> pieces) {
  std::vector<HeadPiece> joined;
  for (HeadPiece& piece : pieces) {
    const bool named = piece.number && !joined.empty() && joined.back().means &&
                       is_numbered_kind(*joined.back().means) && pieces.size() > 2;
    if (!named) {
      joined.push_back(std::move(piece));
      continue;
    }
    joined.back().means.reset();
    joined.back().text += ' ' + piece.text;
  }
  return joined;
}

class Pieces {
public:
  explicit Pieces(std::vector<HeadPiece> pieces)
      : pieces_(with_numbered_names(std::move(pieces))) {}

  bool have(HeadWord word) const { return have_word(pieces_, word); }
  const std::vector<HeadPiece>& all() const { return pieces_; }

  /// Words without a meaning, in their own spelling; the T of "T14" has one.
  std::string rest() const {
    std::string text;
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      const HeadPiece& piece = pieces_[i];
      const bool of_a_day =
          lower_case(piece.text) == "t" && i + 1 < pieces_.size() && pieces_[i + 1].number;
      if (!piece.means && !piece.number && !of_a_day)
        text += (text.empty() ? "" : " ") + piece.text;
    }
    return text;
  }

  /// No rate, as "dose (mg/kg)" and "ml/10 kg" are, and no mass: what was given is known in mL.
  bool are_a_volume() const {
    constexpr std::array<std::string_view, 8> volumes{
        "ml", "mls", "cc", "millilitre", "millilitres", "milliliter", "milliliters", "mililitros"};
    return !have(HeadWord::label_dose) && std::ranges::all_of(pieces_, [&](const HeadPiece& piece) {
      return piece.means != HeadWord::unit ||
             std::ranges::find(volumes, lower_case(piece.text)) != volumes.end();
    });
  }

  /// "Eggs before (factor 15)" is a column of counts that says its factor.
  bool say_factor_of_counts() const {
    if (!have(HeadWord::before) && !have(HeadWord::after))
      return false;
    for (std::size_t i = 0; i + 1 < pieces_.size(); ++i)
      if (pieces_[i].means == HeadWord::factor && pieces_[i + 1].number)
        return true;
    return false;
  }

  std::optional<int> last_number() const {
    std::optional<int> last;
    for (const HeadPiece& piece : pieces_)
      if (piece.number)
        last = piece.number;
    return last;
  }

private:
  std::vector<HeadPiece> pieces_;
};

/// "eggs_before_2", "epg_after:nematodirus" and "eggs_day:28", the counts table's own names.
bool read_own_count(ColumnReading& column, std::string_view key) {
  for (const CountUnit unit : {CountUnit::eggs, CountUnit::epg})
    if (const std::string start = fmt::format("{}_day:", to_string(unit)); key.starts_with(start))
      if (const std::string_view rest = key.substr(start.size());
          const auto day = visit_day(rest)) {
        column.kind = Kind::count;
        column.unit = unit;
        column.time.day = *day;
        column.time.unit_said = true;
        column.time.text = fmt::format("day {}", *day);
        column.says_count = true;
        if (const std::size_t bar = rest.find('_'); bar != std::string_view::npos)
          column.repeat = static_cast<int>(parse_whole_number(rest.substr(bar + 1)).value_or(0));
        return true;
      }
  for (const CountUnit unit : {CountUnit::eggs, CountUnit::epg})
    for (const Occasion occasion : all_occasions) {
      const std::string start = fmt::format("{}_{}", to_string(unit), to_string(occasion));
      if (!key.starts_with(start))
        continue;
      const std::string_view rest = key.substr(start.size());
      const std::uint64_t number =
          rest.starts_with('_') ? parse_whole_number(rest.substr(1)).value_or(0) : 0;
      constexpr std::uint64_t largest_number = 9'999;
      if (!rest.empty() && !rest.starts_with(':') && (number == 0 || number > largest_number))
        continue;
      column.kind = Kind::count;
      column.unit = unit;
      column.time.occasion = occasion;
      column.time.text = to_string(occasion);
      if (rest.starts_with(':'))
        column.worm = canonical_worm(rest.substr(1));
      column.repeat = static_cast<int>(number);
      column.says_count = true;
      return true;
    }
  return false;
}

bool read_own_name(ColumnReading& column, std::string_view key) {
  if (read_own_count(column, key))
    return true;
  if (key == "when") {
    column.kind = Kind::when;
    return true;
  }
  if (key == "eggs" || key == "epg") {
    column.kind = Kind::count;
    column.unit = key == "eggs" ? CountUnit::eggs : CountUnit::epg;
    column.says_count = true;
    return true;
  }
  if (std::ranges::find(layout_columns(), key) == layout_columns().end() &&
      !key.starts_with("factor_before_") && !key.starts_with("factor_after_") &&
      !key.starts_with("factor_day:"))
    return false;
  column.kind = Kind::attribute;
  column.name = key;
  return true;
}

/// The date in a head stays known where its owner says which time it is of.
void keep_date_of_head(ColumnReading& column, std::string_view head, const TableWords& words) {
  if (column.kind != Kind::count || column.time.day)
    return;
  if (const std::string_view text = date_within(head, words); !text.empty()) {
    column.time.text = text;
    column.time.date = written_date(text, words);
  } else if (const std::string_view yearless = yearless_within(head, words); !yearless.empty()) {
    column.time.text = yearless;
    column.time.yearless = yearless_date(yearless, words);
  }
}

/// The day in the head of what its owner calls a count after treatment: "EPG day 3".
void keep_day_of_head(ColumnReading& column, std::string_view head, const TableWords& words) {
  if (column.kind != Kind::count || column.time.occasion != Occasion::after || column.time.day)
    return;
  const TimePoint said = time_point(words.pieces_of(head), head);
  if (!said.day || !said.unit_said || *said.day < 1)
    return;
  column.time.day = said.day;
  column.time.unit_said = true;
}

/// What its owner calls a column; "epg:nematodirus" too, which in a head may be "EPG: after".
void read_said_name(ColumnReading& column, std::string_view ours, const TableWords& words) {
  const std::size_t colon = ours.find(':');
  if (!read_own_name(column, ours) && colon != std::string_view::npos) {
    read_own_name(column, ours.substr(0, colon));
    column.worm = canonical_worm(ours.substr(colon + 1));
  }
  keep_date_of_head(column, column.head, words);
  keep_day_of_head(column, column.head, words);
  column.by_layout = true;
}

/// A count, with what the pieces say of its time, its unit and its worm.
void read_counts_of(ColumnReading& column, const Pieces& pieces, std::string_view head) {
  column.kind = Kind::count;
  column.time = time_point(pieces.all(), head);
  if (pieces.have(HeadWord::epg))
    column.unit = CountUnit::epg;
  else if (pieces.have(HeadWord::eggs))
    column.unit = CountUnit::eggs;
  const std::optional<int> number = pieces.last_number();
  if (number && !column.time.day) {
    if (column.time.occasion)
      column.number = *number;
    else
      column.time.place = *number;
  }
  column.says_count =
      pieces.have(HeadWord::count) || pieces.have(HeadWord::eggs) || pieces.have(HeadWord::epg);
  column.label = pieces.rest();
  if (const auto worm = known_worm(column.label); worm && worm->name != "strongyles") {
    column.worm = worm->name;
    column.label.clear();
  } else if (worm) {
    column.label.clear();
  }
}

/// A head without the part of it that is a date.
std::string without_part(std::string_view head, std::string_view part) {
  const auto start = static_cast<std::size_t>(part.data() - head.data());
  return fmt::format("{} {}", head.substr(0, start), head.substr(start + part.size()));
}

/// The part of a head that is a date without its year; empty if none is. Two numbers with a stroke
/// between them are none behind a day ("Day 10/14"), a group ("Group 1/2") or as a factor.
std::string_view yearless_part(std::string_view head, const Pieces& pieces,
                               const TableWords& words) {
  const std::string_view part = yearless_within(head, words);
  if (part.empty())
    return part;
  const auto start = static_cast<std::size_t>(part.data() - head.data());
  const std::vector<HeadPiece> before = words.pieces_of(head.substr(0, start));
  if (names_month(part, words)) {
    // "Day 0 May 3": the first of two numbers around a month is that of the day before it.
    constexpr std::string_view digits = "0123456789";
    const std::size_t number = part.find_first_not_of(digits);
    const bool two = number > 0 && part.find_first_of(digits, number) != std::string_view::npos;
    return two && time_point(words.pieces_of(head.substr(0, start + number)), "").day
               ? yearless_within(head.substr(start + number), words)
               : part;
  }
  const bool of_a_kind =
      !before.empty() && before.back().means && is_numbered_kind(*before.back().means);
  return of_a_kind || time_point(pieces.all(), "").day || factor_in_head(head) ? std::string_view()
                                                                               : part;
}

/// A count, whose head may have a date without its year: numbers of that are no days, places or
/// repeats.
void read_count_head(ColumnReading& column, const Pieces& pieces, std::string_view head,
                     const TableWords& words) {
  const std::string_view date = yearless_part(head, pieces, words);
  if (date.empty()) {
    read_counts_of(column, pieces, head);
    return;
  }
  const Pieces rest(words.pieces_of(without_part(head, date)));
  read_counts_of(column, rest, head);
  const std::optional<int> place = time_point(rest.all(), "").place;
  if (!place && column.time.place)
    column.number = *column.time.place;
  column.time.place = place;
  if (column.time.day)
    return;
  column.time.yearless = yearless_date(date, words);
  if (!column.time.occasion)
    column.time.text = date;
}

/// Whether a date in a head dates counts: "Weight 3/5/2031" and "Treated 3/5/2031" are none.
bool may_date_counts(const Pieces& rest, bool counts) {
  constexpr std::array others{HeadWord::weight,     HeadWord::dose,    HeadWord::strength,
                              HeadWord::label_dose, HeadWord::treated, HeadWord::drench};
  return counts || time_point(rest.all(), "").occasion ||
         std::ranges::none_of(others, [&](HeadWord word) { return rest.have(word); });
}

void read_date_head(ColumnReading& column, const Pieces& pieces) {
  TimePoint time = time_point(pieces.all(), "");
  if (!time)
    time.place = pieces.last_number();
  column.kind = Kind::attribute;
  column.name = "date";
  if (pieces.have(HeadWord::treated) || pieces.have(HeadWord::drench))
    column.name = "date_treated";
  else if (time.occasion == Occasion::before || time.place == 1 || (time.day && *time.day <= 0))
    column.name = "date_before";
  else if (time.occasion == Occasion::after || time.place == 2 || (time.day && *time.day > 0))
    column.name = "date_after";
}

constexpr std::string_view no_rate = "it speaks of a label, and of no rate such as mL/10 kg";

/// A head that holds a rate, "mL/10 kg". Whether it is a rate at all is still open where it names
/// something else too, "Drug (mg/kg)".
bool read_rate_head(ColumnReading& column, std::string_view head, const Layout& layout) {
  const auto rate = written_rate(head);
  const LabelHead says = label_head(head, layout.words());
  if (!rate || says == LabelHead::none)
    return false;
  const std::string_view name = rate->by_substance ? "label_mg_per_kg" : "label_ml_per_kg";
  if (says == LabelHead::a_dose) {
    column.why = "it says a dose by weight, which may be what was given: " +
                 Wording(Mention{Setting::column, fmt::format("{}={}", name, head)}) +
                 ", if it is the label's";
    return true;
  }
  column.kind = Kind::attribute;
  column.name = name;
  return true;
}

/// What is taken for a weight, a dose or a strength is not used where its head says a unit that is
/// not known: drops are no mL, and hundredweights no kg.
void leave_out_unknown_unit(ColumnReading& column, std::string_view head, const TableWords& words) {
  UnitOfHead unit;
  std::string_view ours;
  if (column.name == "weight_kg") {
    unit = unit_of_weights(head, words);
    ours = "kg, lb or st";
  } else if (column.name == "dose_ml") {
    unit = unit_of_doses(head, words);
    ours = "mL";
  } else if (column.name == "mg_per_ml") {
    unit = unit_of_strengths(head, words);
    ours = "mg/mL";
  }
  if (unit.unknown.empty())
    return;
  column.kind = Kind::unused;
  column.name.clear();
  column.why = fmt::format("{} in its head is not {}", in_quotes(unit.unknown), ours);
}

/// "Days after treatment" and "Days to the second sample", with the number in each cell: the times
/// of the rows, or, beside counts that have times of their own, the day of the second
/// (SheetReading).
bool says_days_after(const Pieces& pieces) {
  constexpr std::array units{HeadWord::day, HeadWord::week, HeadWord::hour, HeadWord::months};
  const TimePoint time = time_point(pieces.all(), "");
  const bool later = time.occasion == Occasion::after || (!time.occasion && time.place == 2);
  return later && !time.day && !pieces.last_number() &&
         std::ranges::any_of(units, [&](HeadWord unit) { return pieces.have(unit); });
}

void read_words(ColumnReading& column, std::string_view head, const Layout& layout) {
  const Pieces pieces(layout.words().pieces_of(head));
  // "After %" is a reduction, and no count.
  if (pieces.have(HeadWord::ignored) || head.find('%') != std::string_view::npos)
    return;
  column.says_mean = std::ranges::any_of(pieces.all(), [&](const HeadPiece& piece) {
    return !piece.means && layout.words().sums_up(piece.text);
  });
  const bool counts =
      pieces.have(HeadWord::count) || pieces.have(HeadWord::eggs) || pieces.have(HeadWord::epg);
  if (pieces.have(HeadWord::factor) && !(counts && pieces.say_factor_of_counts())) {
    const TimePoint time = time_point(pieces.all(), "");
    column.kind = Kind::attribute;
    column.name = "factor";
    if (time.occasion)
      column.name += fmt::format("_{}", to_string(*time.occasion));
    return;
  }
  if (pieces.have(HeadWord::date) && !counts) {
    read_date_head(column, pieces);
    return;
  }
  if (const std::string_view text = date_within(head, layout.words()); !text.empty()) {
    const std::string rest = without_part(head, text);
    if (!may_date_counts(Pieces(layout.words().pieces_of(rest)), counts)) {
      read_words(column, rest, layout);
      return;
    }
    read_counts_of(column, pieces, head);
    // Numbers of the date are no days or places; what a word says of the time stays.
    const std::optional<Occasion> said = column.time.occasion;
    column.time = {};
    column.time.occasion = said;
    column.time.text = text;
    column.time.date = written_date(text, layout.words());
    column.number = 0;
    column.label.clear();
    return;
  }
  if (counts) {
    read_count_head(column, pieces, head, layout.words());
    return;
  }
  if (says_days_after(pieces)) {
    column.kind = Kind::when;
    column.name = "days_after";
    return;
  }
  if (read_rate_head(column, head, layout))
    return;
  // "Days from the last dose" is neither a dose nor a date.
  const bool in_days = pieces.have(HeadWord::day) || pieces.have(HeadWord::week);
  const bool of_treatment = pieces.have(HeadWord::treated) || pieces.have(HeadWord::drench) ||
                            pieces.have(HeadWord::dose);
  if (in_days && of_treatment && !pieces.last_number()) {
    column.kind = Kind::when;
    return;
  }
  if (pieces.have(HeadWord::treated)) {
    column.kind = Kind::attribute;
    column.name = "date_treated";
    return;
  }
  const TimePoint time = time_point(pieces.all(), head);
  if (time.day || (time.occasion && !pieces.have(HeadWord::weight)) || time.place) {
    read_count_head(column, pieces, head, layout.words());
    return;
  }
  const bool names_another = std::ranges::any_of(attributes, [&](const auto& each) {
    return each.first != HeadWord::dose && pieces.have(each.first);
  });
  if (!names_another && label_head(head, layout.words()) == LabelHead::label) {
    column.may_be_label = true;
    column.why = std::string(no_rate);
    return;
  }
  if (pieces.have(HeadWord::dose) && !pieces.are_a_volume()) {
    column.why = "it says another unit than mL";
    return;
  }
  for (const auto& [word, name] : attributes)
    if (pieces.have(word)) {
      column.kind = Kind::attribute;
      column.name = name;
      leave_out_unknown_unit(column, head, layout.words());
      return;
    }
  if (pieces.have(HeadWord::label_dose)) { // "Dose rate", of whose rate nothing is said
    column.may_be_label = true;
    column.why = std::string(no_rate);
    return;
  }
  if (pieces.have(HeadWord::worm)) {
    column.kind = Kind::attribute;
    column.name = "worm";
    return;
  }
  if (in_days || pieces.have(HeadWord::hour) || pieces.have(HeadWord::occasion)) {
    column.kind = Kind::when;
    return;
  }
  if (!pieces.all().empty() && pieces.all().size() == 1 && pieces.all()[0].number) {
    // A bare "14" may be a day; the rows tell whether it is.
    read_count_head(column, pieces, head, layout.words());
    return;
  }
  if (const auto worm = known_worm(head)) {
    read_count_head(column, pieces, head, layout.words());
    return;
  }
  column.label = head;
}

} // namespace

ColumnReading read_head(std::size_t index, std::string_view head, std::string_view above,
                        const Layout& layout) {
  ColumnReading column;
  column.index = index;
  column.head = above.empty() ? std::string(head) : fmt::format("{} {}", above, head);
  for (const auto& [ours, theirs] : layout.columns)
    if (look_of(theirs) == look_of(head) || look_of(theirs) == look_of(column.head)) {
      read_said_name(column, ours, layout.words());
      return column;
    }
  const std::string key = header_key(head);
  const bool time_is_above = !above.empty() && (key == "eggs" || key == "epg");
  if (time_is_above || !read_own_name(column, key))
    read_words(column, column.head, layout);
  else if (column.kind == Kind::count && !above.empty()) // "EPG before", below a group's name
    column.label = Pieces(layout.words().pieces_of(above)).rest();
  return column;
}

std::string our_name(const ColumnReading& column, const std::optional<SampleTime>& time) {
  if (column.kind == Kind::attribute)
    return column.name;
  if (column.kind == Kind::when)
    return "when";
  std::string name(column.unit ? to_string(*column.unit) : "count");
  if (time)
    name += fmt::format("_{}", to_string(*time));
  if (column.repeat > 0)
    name += fmt::format("_{}", column.repeat);
  if (!column.worm.empty())
    name += ':' + column.worm;
  return name;
}

} // namespace eggfall
