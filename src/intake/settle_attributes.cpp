#include "intake/settle_attributes.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "intake/dose_units.hpp"
#include "intake/open_question.hpp"
#include "intake/same_animal.hpp"
#include "intake/time_point.hpp"
#include "trial/header_cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <map>
#include <set>
#include <string_view>
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
  const std::string word = lower_case(rest);
  if (kg_in(word)) // stones are no word of a head, where they may name a paddock
    return {text.substr(0, end), word};
  const bool unit = pieces.size() == 1 && pieces[0].means == HeadWord::unit;
  return unit ? std::pair{text.substr(0, end), lower_case(pieces[0].text)}
              : std::pair{text, std::string()};
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
      else if (name == "days_after")
        settle_days(cell);
      else if (name == "role")
        settle_role(cell);
      else if (name == "host")
        cell.text = layout_.words().host(cell.text).value_or(cell.text);
      else if (name == "weight_kg")
        settle_weight(cell);
      else if (name == "dose_ml")
        settle_dose(cell);
      else if (name == "mg_per_ml")
        settle_strength(cell);
      else if (name == "label_ml_per_kg" || name == "label_mg_per_kg")
        settle_label(name, cell);
    }
    settle_drench(animal);
  }

  /// What only all animals together show of the label's rates.
  void settle_labels(std::vector<RawAnimal>& animals) {
    leave_out_given_rates(animals);
    leave_out_rates_by_substance(animals);
  }

  void tell() {
    for (const auto& [unit, weights] : converted_)
      log_.tell(fmt::format("{} weight{} in {} {} turned into kilograms", weights,
                            weights == 1 ? "" : "s", unit, weights == 1 ? "is" : "are"));
    for (const Wording& line : of_labels_)
      log_.tell(line);
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

  /// "Day 10", "10 days", "2 weeks" and, below a head of weeks, "2" as a number of days.
  void settle_days(RawCell& cell) const {
    const auto day = time_under(cell.head, cell.text, layout_.words()).day;
    if (day && *day == std::floor(*day))
      cell.text = fmt::format("{:g}", *day);
    else if (cell.text.find_first_not_of("-.?/ ") == std::string::npos)
      cell.text.clear(); // a dash for none
  }

  /// Whether the unit of a head is one that no number below it may be read without; told if it is.
  /// Words that only may be a unit are left to whoever named the column.
  bool refuse_unit(const RawCell& cell, const UnitOfHead& unit, std::string_view ours) {
    if (unit.unknown.empty() || !unit.surely)
      return false;
    problems_.add_once("unit " + cell.head,
                       cell.problem(fmt::format("{} in the head", in_quotes(unit.unknown)),
                                    fmt::format("{}, which the head says too", ours)));
    return true;
  }

  /// Pounds or stones that were taken for kilograms would make a full dose look like half of one,
  /// or like six, and excuse a drench that fails, or hide that too little was given.
  void settle_weight(RawCell& cell) {
    if (const auto kg = stones_and_pounds(cell.text)) {
      ++converted_["stones"];
      cell.text = kilograms(*kg);
      return;
    }
    const auto [number, unit] = parted_unit(cell.text, layout_.words());
    const auto weight = parse_number(number);
    std::optional<double> kg = kg_in(unit);
    if (unit.empty()) {
      const UnitOfHead of_head = unit_of_weights(cell.head, layout_.words());
      if (refuse_unit(cell, of_head, "a weight in kg, lb or st"))
        return;
      kg = of_head.size.value_or(1);
    }
    if (!kg)
      problems_.add(cell.problem(in_quotes(cell.text) + " in " + unit, "a weight in kg"));
    else if (weight && *kg != 1) {
      ++converted_[*kg > 1 ? "stones" : "pounds"];
      cell.text = kilograms(*weight * *kg);
    } else {
      cell.text = number;
    }
  }

  /// As finely as any scale weighs.
  static std::string kilograms(double kg) { return fmt::format("{:.4g}", kg); }

  /// A dose in another unit than mL is left as it is, to be refused.
  void settle_dose(RawCell& cell) {
    const auto [number, unit] = parted_unit(cell.text, layout_.words());
    if (is_one_of(unit, {"ml", "mls", "cc"}) || unit.starts_with("mil")) {
      if (!unit.starts_with("millig") && !unit.starts_with("milig"))
        cell.text = number;
    } else if (unit.empty()) {
      refuse_unit(cell, unit_of_doses(cell.head, layout_.words()), "a dose in mL");
    }
  }

  void settle_strength(RawCell& cell) {
    if (const auto said = strength_in_cell(cell.text)) {
      cell.text = fmt::format("{}", *said);
      strength_says_unit_ = true;
      return;
    }
    const UnitOfHead unit = unit_of_strengths(cell.head, layout_.words());
    refuse_unit(cell, unit, "a strength in mg/mL");
    strength_says_unit_ = strength_says_unit_ || unit.size || names_head(layout_, cell.head);
  }

  // The label's rate.

  static std::string unit_of(bool by_substance) { return by_substance ? "mg" : "mL"; }

  void refuse_label(const RawCell& cell, std::string found, std::string expected) {
    problems_.add_once("label " + cell.head + found,
                       cell.problem(std::move(found), std::move(expected)));
  }

  /// "2" below "Label mL/10 kg", and "1 mL/5 kg" below any head, are so many mL per kg: a rate that
  /// is ten times too large makes doses look too small, which excuses a drench that fails.
  void settle_label(const std::string& name, RawCell& cell) {
    const bool by_substance = name == "label_mg_per_kg";
    const auto of_head = written_rate(cell.head);
    const auto of_cell = rate_in_cell(cell.text);
    if (!of_cell && !of_head) {
      if (has_unit_or_number(cell.head))
        refuse_label(cell,
                     fmt::format("a head whose unit is not understood, {}", in_quotes(cell.head)),
                     fmt::format("a head that says a rate, such as {0}/kg or {0}/10 kg",
                                 unit_of(by_substance)));
      return;
    }
    const WrittenRate& rate = of_cell ? *of_cell : *of_head;
    if (rate.by_substance != by_substance) {
      refuse_label(cell, fmt::format("a rate in {}", unit_of(rate.by_substance)),
                   fmt::format("one in {} for {} (a rate in {} is {})", unit_of(by_substance), name,
                               unit_of(rate.by_substance),
                               rate.by_substance ? "label_mg_per_kg" : "label_ml_per_kg"));
      return;
    }
    if (of_cell && of_head && !agree(*of_cell, *of_head)) {
      refuse_label(cell, fmt::format("{} below {}", in_quotes(cell.text), in_quotes(cell.head)),
                   "one rate in the head and in the cell");
      return;
    }
    if (!of_cell && of_head->amount) {
      refuse_label(cell, fmt::format("{} below a head with a whole rate", in_quotes(cell.text)),
                   "numbers below a head that says their unit alone, or no cells below it");
      return;
    }
    const auto number = of_cell ? of_cell->amount : number_of_rate(cell.text, *of_head);
    if (!number)
      return; // left to be refused
    const std::string text = fmt::format("{:.10g}", rate.per_kg(*number));
    if (rate.kg != 1 || rate.unit != 1) {
      const std::string written =
          of_cell ? of_cell->text : fmt::format("{:g} {}", *number, rate.text);
      if (told_heads_.insert(cell.head).second)
        of_labels_.push_back(fmt::format("the label's rates under {} are turned into {} per kg: {} "
                                         "is {} {}/kg",
                                         in_quotes(cell.head), unit_of(by_substance), written, text,
                                         unit_of(by_substance)));
    }
    cell.text = text;
  }

  static bool agree(const WrittenRate& cell, const WrittenRate& head) {
    constexpr double rounding = 1e-9;
    if (head.amount)
      return std::abs(cell.per_kg(*cell.amount) / head.per_kg(*head.amount) - 1) < rounding;
    return cell.by_substance == head.by_substance && cell.unit == head.unit &&
           std::abs(cell.kg / head.kg - 1) < rounding;
  }

  /// A rate that is not said to be the label's may be the one that was given: then it differs from
  /// animal to animal, and no dose would ever differ from it.
  void leave_out_given_rates(std::vector<RawAnimal>& animals) {
    std::map<std::string, std::map<std::string, std::set<std::string>>> rates; // by head and group
    for (const RawAnimal& animal : animals)
      for (const char* const name : {"label_ml_per_kg", "label_mg_per_kg"})
        if (const auto found = animal.attributes.find(name); found != animal.attributes.end())
          if (is_open(found->second.head))
            rates[found->second.head][animal.group].insert(found->second.text);
    for (const auto& [head, groups] : rates) {
      const bool given = std::ranges::any_of(
          groups, [](const auto& of_group) { return of_group.second.size() > 1; });
      if (!given) {
        of_labels_.push_back(
            fmt::format("{} is taken for the label's rate, though it does not say whose it is (if "
                        "it is what was given, doses were not checked)",
                        in_quotes(head)));
        continue;
      }
      leave_out(animals, [&head = head](const RawCell& cell) { return cell.head == head; });
      of_labels_.push_back(
          fmt::format("{} is not used: its rates differ within a group, as what was given does and "
                      "what a label says does not (",
                      in_quotes(head)) +
          Mention{Setting::column, "label_ml_per_kg=" + head} + ", if it is the label's)");
    }
  }

  /// Whether a head leaves open whose rate it is.
  bool is_open(const std::string& head) const {
    return !names_head(layout_, head) && label_head(head, layout_.words()) == LabelHead::rate;
  }

  template <typename Is> static void leave_out(std::vector<RawAnimal>& animals, Is is) {
    for (RawAnimal& animal : animals)
      for (const char* const name : {"label_ml_per_kg", "label_mg_per_kg"})
        if (const auto found = animal.attributes.find(name);
            found != animal.attributes.end() && is(found->second))
          animal.attributes.erase(found);
  }

  /// A rate in mg is of use beside the strength in mg/mL alone. "1" below "Strength" may be 1%,
  /// which is ten times as much.
  void leave_out_rates_by_substance(std::vector<RawAnimal>& animals) {
    const RawCell* rate = nullptr;
    bool strength = false;
    for (const RawAnimal& animal : animals) {
      if (const auto found = animal.attributes.find("label_mg_per_kg");
          rate == nullptr && found != animal.attributes.end())
        rate = &found->second;
      strength = strength || animal.attributes.contains("mg_per_ml");
    }
    if (rate == nullptr || names_head(layout_, rate->head) || (strength && strength_says_unit_) ||
        header_key(rate->head) == "label_mg_per_kg") // a table in our own words is held to them
      return;
    const std::string head = rate->head;
    for (RawAnimal& animal : animals)
      animal.attributes.erase("label_mg_per_kg");
    of_labels_.push_back(
        fmt::format("{} is not used: a rate in mg needs the strength of the drench in mg/mL, {}",
                    in_quotes(head),
                    strength ? "and the one that is given says no unit (head it \"Strength mg/mL\")"
                             : "in a column \"Strength mg/mL\""));
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
  std::map<std::string_view, std::size_t> converted_; ///< Weights in pounds and in stones.
  bool strength_says_unit_ = false;
  std::set<std::string> told_heads_; ///< Whose rates were told to be turned into others.
  std::vector<Wording> of_labels_;
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
  settler.settle_labels(animals);
  settler.tell();
}

} // namespace eggfall
