#include "intake/settle_attributes.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "intake/open_question.hpp"
#include "intake/same_animal.hpp"
#include "intake/time_point.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>
#include <map>
#include <set>
#include <utility>

namespace eggfall {
namespace {

/// "32.5 kg" as its number and its unit; the whole of anything else, without one.
std::pair<std::string, std::string> parted_unit(const std::string& text, const TableWords& words) {
  const std::size_t end = text.find_first_not_of("0123456789.,");
  if (end == std::string::npos || end == 0)
    return {text, {}};
  const std::string_view rest = trimmed(std::string_view(text).substr(end));
  const std::vector<HeadPiece> pieces = words.pieces_of(rest);
  const bool unit = pieces.size() == 1 && pieces[0].means == HeadWord::unit;
  return unit ? std::pair{text.substr(0, end), lower_case(pieces[0].text)}
              : std::pair{text, std::string()};
}

/// "lb" of "Weight (lb)"; empty for a head that says none.
std::string unit_of_head(std::string_view head, const TableWords& words) {
  for (const HeadPiece& piece : words.pieces_of(head))
    if (piece.means == HeadWord::unit)
      return lower_case(piece.text);
  return {};
}

bool is_one_of(std::string_view unit, std::initializer_list<std::string_view> units) {
  return std::ranges::find(units, unit) != units.end();
}

class AttributeSettler {
public:
  AttributeSettler(const Layout& layout, std::optional<DateOrder> order, Problems& problems,
                   ReadingLog& log)
      : layout_(layout), order_(order), problems_(problems), log_(log) {}

  void settle(RawAnimal& animal) {
    for (auto& [name, cell] : animal.attributes) {
      if (name.starts_with("date_"))
        settle_date(cell);
      else if (name == "role")
        settle_role(cell);
      else if (name == "host")
        cell.text = layout_.words().host(cell.text).value_or(cell.text);
      else if (name == "weight_kg")
        settle_weight(cell);
      else if (name == "dose_ml")
        settle_dose(cell);
    }
    settle_drench(animal);
  }

  void tell() {
    if (pounds_ > 0)
      log_.tell(fmt::format("{} weight{} in pounds {} turned into kilograms", pounds_,
                            pounds_ == 1 ? "" : "s", pounds_ == 1 ? "is" : "are"));
    for (const auto& [word, role] : roles_)
      log_.add(fmt::format("{} is taken for the role {}", in_quotes(word), role));
    if (!untreated_.empty()) {
      constexpr std::size_t most_listed = 6;
      log_.tell(
          fmt::format("groups whose drench is {} are taken for the untreated control",
                      quoted_list(std::vector<std::string>(untreated_.begin(), untreated_.end()),
                                  most_listed)));
    }
  }

private:
  void settle_date(RawCell& cell) {
    const auto date = written_date(cell.text, layout_.words());
    if (!date) {
      problems_.add(cell.problem(in_quotes(cell.text),
                                 "a date with its year, such as 2031-04-27, 27/4/2031 or 27 April "
                                 "2031"));
      return;
    }
    if (const auto day = in_order(*date, order_))
      cell.text = iso_date(*day);
  }

  /// Pounds that were taken for kilograms would make a full dose look like half of one, and excuse
  /// a drench that fails.
  void settle_weight(RawCell& cell) {
    constexpr double kg_per_lb = 0.45359237; // by definition: international pound of 1959
    auto [number, unit] = parted_unit(cell.text, layout_.words());
    if (unit.empty())
      unit = unit_of_head(cell.head, layout_.words());
    const auto weight = parse_number(number);
    if (weight && is_one_of(unit, {"lb", "lbs", "pound", "pounds"})) {
      ++pounds_;
      cell.text = fmt::format("{:.1f}", *weight * kg_per_lb);
    } else if (unit.empty() || is_one_of(unit, {"kg", "kgs"}) || unit.starts_with("kilo") ||
               unit.starts_with("quilo")) {
      cell.text = number;
    } else {
      problems_.add(cell.problem(in_quotes(cell.text) + " in " + unit, "a weight in kg"));
    }
  }

  /// A dose in another unit than mL is left as it is, to be refused.
  void settle_dose(RawCell& cell) {
    const auto [number, unit] = parted_unit(cell.text, layout_.words());
    if (is_one_of(unit, {"ml", "mls", "cc"}) || unit.starts_with("mil"))
      if (!unit.starts_with("millig") && !unit.starts_with("milig"))
        cell.text = number;
  }

  void settle_role(RawCell& cell) {
    const auto role = role_called(cell.text, layout_.words());
    if (!role)
      return;
    const std::string_view ours = to_string(*role);
    if (lower_case(cell.text) != ours)
      roles_.emplace(cell.text, ours);
    cell.text = ours;
  }

  void settle_drench(RawAnimal& animal) {
    const auto drench = animal.attributes.find("drench");
    if (drench == animal.attributes.end() ||
        layout_.words().role(drench->second.text) != Role::control)
      return;
    const auto role = animal.attributes.find("role");
    if (role != animal.attributes.end() && role->second.text == "treated") {
      problems_.add(drench->second.problem(in_quotes(drench->second.text) + " for a treated animal",
                                           "the drench it was given, or the role control"));
      return;
    }
    untreated_.insert(drench->second.text);
    RawCell said = drench->second;
    said.text = to_string(Role::control);
    animal.attributes.erase(drench);
    animal.attributes["role"] = std::move(said);
  }

  const Layout& layout_;
  std::optional<DateOrder> order_;
  Problems& problems_;
  ReadingLog& log_;
  std::map<std::string, std::string> roles_;
  std::set<std::string> untreated_;
  std::size_t pounds_ = 0; ///< Weights in them.
};

/// By their texts, which may be those of heads.
using DatesRead = std::map<std::string, WrittenDate>;

[[noreturn]] void ask_for_order(const PlacedDate& date, const Source& source,
                                const DatesRead& dates) {
  const WrittenDate& read = dates.at(date.text);
  throw OpenQuestion({source,
                      0,
                      0,
                      {},
                      fmt::format("dates of which none tells day from month, such as {} on {}",
                                  in_quotes(date.text), date.place),
                      {}},
                     {answer("dates", "day-first", date_in_words(*read.day_first)),
                      answer("dates", "month-first", date_in_words(*read.month_first))});
}

/// Dates that are none in the order that their owner says.
void refuse_other_order(const DateOrders& orders, DateOrder said, const Source& source) {
  const DateOrder other =
      said == DateOrder::day_first ? DateOrder::month_first : DateOrder::day_first;
  if (const PlacedDate* const date = orders.only_in(other))
    throw InputError({Problem{source,
                              0,
                              0,
                              {},
                              fmt::format("{} on {}", in_quotes(date->text), date->place),
                              fmt::format("dates with the {}, as said", to_string(said))}});
}

/// Of a sheet, with their places.
void add_dates(DateOrders& orders, DatesRead& dates, const SheetReading& sheet,
               const TableWords& words) {
  const Source& source = sheet.sheet->source;
  const auto add = [&](const WrittenDate& date, const std::string& text, std::size_t line) {
    orders.add(date, text, source.line(line));
    dates.emplace(text, date);
  };
  for (const ColumnReading& column : sheet.columns) {
    if (column.time.date)
      add(*column.time.date, column.time.text, sheet.header_line);
    const bool dated =
        column.kind == ColumnReading::Kind::when ||
        (column.kind == ColumnReading::Kind::attribute && column.name.starts_with("date"));
    if (!dated)
      continue;
    for (const SampleRow& row : sheet.rows)
      if (const std::string_view cell = row.cell(column.index); !cell.empty())
        if (const auto date = written_date(cell, words))
          add(*date, std::string(cell), row.row->line);
  }
}

} // namespace

std::optional<DateOrder> date_order_of(const std::vector<SheetReading>& sheets,
                                       const Layout& layout, ReadingLog& log) {
  DateOrders orders;
  DatesRead dates;
  for (const SheetReading& sheet : sheets)
    add_dates(orders, dates, sheet, layout.words());
  const Source& source = sheets.front().sheet->source;
  if (layout.dates) {
    refuse_other_order(orders, *layout.dates, source);
    return layout.dates;
  }
  if (const auto agreed = orders.agreed()) {
    if (const PlacedDate* const date = orders.only_in(*agreed))
      log.tell(fmt::format("{}: dates have the {}: {} on {} can be nothing else", source.shown(),
                           to_string(*agreed), in_quotes(date->text), date->place));
    return agreed;
  }
  if (const auto both = orders.contradiction())
    throw InputError(
        {Problem{source,
                 0,
                 0,
                 {},
                 fmt::format("{} on {}, where the month is first, and {} on {}, where the day is",
                             in_quotes(both->second.text), both->second.place,
                             in_quotes(both->first.text), both->first.place),
                 "dates in one order"}});
  ask_for_order(*orders.undecided(), source, dates);
}

void settle_attributes(std::vector<RawAnimal>& animals, const Layout& layout,
                       std::optional<DateOrder> order, Problems& problems, ReadingLog& log) {
  AttributeSettler settler(layout, order, problems, log);
  for (RawAnimal& animal : animals)
    settler.settle(animal);
  settler.tell();
}

} // namespace eggfall
