#include "intake/layout.hpp"

#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/toml_reader.hpp"
#include "trial/field_words.hpp"
#include "trial/trial_columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace eggfall {
namespace {

constexpr Names<Occasion, 2> occasion_names{{
    {Occasion::before, "before"},
    {Occasion::after, "after"},
}};

constexpr Names<CountUnit, 2> unit_names{{
    {CountUnit::eggs, "eggs"},
    {CountUnit::epg, "epg"},
}};

constexpr Names<SideBySide, 2> side_names{{
    {SideBySide::repeats, "repeats"},
    {SideBySide::groups, "groups"},
}};

constexpr Names<DateOrder, 2> order_names{{
    {DateOrder::day_first, "day-first"},
    {DateOrder::month_first, "month-first"},
}};

constexpr Names<CellWord, 2> answer_names{{
    {CellWord::none_seen, "none-seen"},
    {CellWord::not_sampled, "not-sampled"},
}};

template <typename Enum, std::size_t N> std::string either_of(const Names<Enum, N>& names) {
  std::string list;
  for (const auto& [value, name] : names)
    list += (list.empty() ? "" : " or ") + std::string(name);
  return list;
}

/// Of a setting by itself.
template <typename Enum, std::size_t N>
Enum named(std::string_view text, const Names<Enum, N>& names, Setting setting) {
  if (const auto value = value_named(names, lower_case(text)))
    return *value;
  refuse_setting(setting, in_quotes(text), either_of(names));
}

/// Of a text under a key of a file.
template <typename Enum, std::size_t N>
Enum named_in(const Section& root, std::string_view key, std::string_view text,
              const Names<Enum, N>& names) {
  if (const auto value = value_named(names, lower_case(text)))
    return *value;
  root.refuse_key(key, in_quotes(text), either_of(names));
}

/// "a=b", at the last sign of equality if `at_last`, for a word in a table may hold one.
std::pair<std::string, std::string> halves(std::string_view text, bool at_last, Setting setting,
                                           std::string example) {
  const std::size_t position = at_last ? text.rfind('=') : text.find('=');
  if (position != std::string_view::npos) {
    std::string left = normalised(text.substr(0, position));
    std::string right = normalised(text.substr(position + 1));
    if (!left.empty() && !right.empty())
      return {std::move(left), std::move(right)};
  }
  refuse_setting(setting, in_quotes(text), std::move(example));
}

/// Lists of the owner's own words, in the form of src/data/table_words.toml.
constexpr std::array<std::string_view, 8> own_lists{"yes-no", "head",  "cell",    "role",
                                                    "sum",    "month", "weekday", "host-word"};

/// The day of "eggs_day:28" behind its start.
std::optional<int> visit_of(std::string_view name, std::string_view start) {
  return name.starts_with(start) ? visit_day(name.substr(start.size())) : std::nullopt;
}

/// What is expected in place of a name that is none of ours; nothing for one of ours.
std::optional<std::string> expected_column(std::string_view name) {
  const auto& known = layout_columns();
  const bool numbered_or_worm =
      name.find(':') != std::string_view::npos ||
      (!name.empty() && std::isdigit(static_cast<unsigned char>(name.back())) != 0);
  const std::string_view stem = name.substr(0, name.find_first_of(":0123456789"));
  const bool fits = std::ranges::find(known, name) != known.end() ||
                    (numbered_or_worm && std::ranges::any_of(known, [&](std::string_view each) {
                       if (each == "eggs" || each == "epg")
                         return name.starts_with(std::string(each) + ':') ||
                                visit_of(name, std::string(each) + "_day:").has_value();
                       if (each == "factor")
                         return visit_of(name, "factor_day:").has_value();
                       return (each.starts_with("eggs_") || each.starts_with("epg_")) &&
                              (stem == each || stem == std::string(each) + '_');
                     }));
  if (fits)
    return std::nullopt;
  return fmt::format("one of {}{}", fmt::join(known, ", "), is_meant(nearest_words(name, known)));
}

double factor_of(const Section& root, std::string_view key) {
  return *root.number(key, MultiplicationFactor::smallest, MultiplicationFactor::largest);
}

/// A day may be written as a number or as a text.
std::optional<std::string> day_of(const Section& root, std::string_view key) {
  if (!root.has(key))
    return std::nullopt;
  if (root.is_number(key))
    return fmt::format("{}", *root.number(key, -1000, 1000));
  return root.text(key);
}

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\')
      out += '\\';
    out += c;
  }
  return out + '"';
}

} // namespace

std::string_view to_string(Occasion occasion) {
  return name_of(occasion_names, occasion, "a time of sampling");
}

std::string to_string(const SampleTime& time) {
  return time.day > 0 ? fmt::format("day:{}", time.day) : std::string(to_string(time.occasion));
}

std::string_view to_string(CountUnit unit) {
  return name_of(unit_names, unit, "a unit of counts");
}

std::string_view to_string(SideBySide side_by_side) {
  return name_of(side_names, side_by_side, "columns side by side");
}

const std::vector<std::string_view>& layout_columns() {
  static const std::vector<std::string_view> names{"group",
                                                   "animal",
                                                   "when",
                                                   "eggs",
                                                   "epg",
                                                   "eggs_before",
                                                   "eggs_after",
                                                   "epg_before",
                                                   "epg_after",
                                                   "factor",
                                                   "factor_before",
                                                   "factor_after",
                                                   "role",
                                                   "trial",
                                                   "farm",
                                                   "drench",
                                                   "class",
                                                   "host",
                                                   "worm",
                                                   "region",
                                                   "year",
                                                   "animals_in_pool",
                                                   "weight_kg",
                                                   "dose_ml",
                                                   "mg_per_ml",
                                                   "label_mg_per_kg",
                                                   "label_ml_per_kg",
                                                   "date",
                                                   "date_before",
                                                   "date_treated",
                                                   "date_after",
                                                   "days_after"};
  return names;
}

DateOrder parse_date_order(std::string_view text) {
  return named(text, order_names, Setting::dates);
}

CountUnit parse_count_unit(std::string_view text) {
  return named(text, unit_names, Setting::counts);
}

Occasion parse_occasion(std::string_view text) {
  return named(text, occasion_names, Setting::occasions);
}

SideBySide parse_side_by_side(std::string_view text) {
  return named(text, side_names, Setting::side_by_side);
}

void add_column(Layout& layout, std::string_view text) {
  auto [ours, theirs] =
      halves(text, false, Setting::column, "OURS=THEIRS, such as animal=\"Ear tag\"");
  ours = lower_case(ours);
  if (const auto expected = expected_column(ours))
    refuse_setting(Setting::column, "the column " + in_quotes(ours), *expected);
  layout.columns[ours] = std::move(theirs);
}

void add_cell(Layout& layout, std::string_view text) {
  const auto [word, meaning] =
      halves(text, true, Setting::cell, "WORD=none-seen or WORD=not-sampled, such as nd=none-seen");
  layout.cells[look_of(word)] = named(meaning, answer_names, Setting::cell);
}

Layout read_layout(std::string_view toml, const std::string& source) {
  return read_toml(toml, source, "eggfall.layout/1", [&](const Section& root) {
    std::vector<std::string_view> keys{"schema",    "columns",    "cells",         "dates",
                                       "counts",    "day-before", "day-after",     "mean-of",
                                       "occasions", "factor",     "factor-before", "factor-after",
                                       "host",      "control",    "treated",       "side-by-side"};
    keys.insert(keys.end(), own_lists.begin(), own_lists.end());
    root.allow_only(keys);
    Layout layout;
    root.each_text("columns", [&](const std::string& ours, const std::string& theirs) {
      if (const auto expected = expected_column(ours))
        root.refuse_key("columns", "the column " + in_quotes(ours), *expected);
      layout.columns[ours] = theirs;
    });
    root.each_text("cells", [&](const std::string& word, const std::string& meaning) {
      layout.cells[look_of(word)] = named_in(root, "cells", meaning, answer_names);
    });
    if (const auto text = root.text("dates"))
      layout.dates = named_in(root, "dates", *text, order_names);
    if (const auto text = root.text("counts"))
      layout.counts = named_in(root, "counts", *text, unit_names);
    layout.day_before = day_of(root, "day-before");
    layout.day_after = day_of(root, "day-after");
    if (const auto mean_of = root.number("mean-of", 2, static_cast<double>(most_repeats))) {
      if (*mean_of != std::floor(*mean_of))
        root.refuse_key("mean-of", fmt::format("{}", *mean_of), "a whole number of counts");
      layout.mean_of = static_cast<unsigned>(*mean_of);
    }
    if (const auto text = root.text("side-by-side"))
      layout.side_by_side = named_in(root, "side-by-side", *text, side_names);
    layout.treated = root.texts("treated");
    for (const std::string& text : root.texts("occasions"))
      layout.occasions.push_back(named_in(root, "occasions", text, occasion_names));
    for (const auto& [key, factor] :
         {std::pair{"factor", &layout.factor}, std::pair{"factor-before", &layout.factor_before},
          std::pair{"factor-after", &layout.factor_after}})
      if (root.has(key))
        *factor = factor_of(root, key);
    layout.host = root.text("host").value_or("");
    if (auto expected = expected_host(layout.host))
      root.refuse_key("host", in_quotes(layout.host), *std::move(expected));
    layout.control = root.text("control").value_or("");
    if (std::ranges::any_of(own_lists, [&](const std::string_view key) { return root.has(key); }))
      layout.own_words = TableWords::known().with(root);
    return layout;
  });
}

std::string layout_toml(const Layout& layout) {
  std::string out = "schema = \"eggfall.layout/1\"\n";
  const auto text = [&](std::string_view key, std::string_view value) {
    out += fmt::format("{} = {}\n", key, toml_text(value));
  };
  if (layout.dates)
    text("dates", name_of(order_names, *layout.dates, "an order of dates"));
  if (layout.counts)
    text("counts", to_string(*layout.counts));
  if (layout.day_before)
    text("day-before", *layout.day_before);
  if (layout.day_after)
    text("day-after", *layout.day_after);
  if (layout.mean_of)
    out += fmt::format("mean-of = {}\n", *layout.mean_of);
  const auto list = [&](std::string_view key, const auto& values) {
    std::string items;
    for (const auto& value : values)
      items += (items.empty() ? "" : ", ") + toml_text(value);
    if (!items.empty())
      out += fmt::format("{} = [{}]\n", key, items);
  };
  if (layout.side_by_side)
    text("side-by-side", to_string(*layout.side_by_side));
  std::vector<std::string_view> occasions;
  for (const Occasion occasion : layout.occasions)
    occasions.push_back(to_string(occasion));
  list("occasions", occasions);
  list("treated", layout.treated);
  for (const auto& [key, factor] :
       {std::pair{"factor", layout.factor}, std::pair{"factor-before", layout.factor_before},
        std::pair{"factor-after", layout.factor_after}})
    if (factor)
      out += fmt::format("{} = {}\n", key, *factor);
  if (!layout.host.empty())
    text("host", layout.host);
  if (!layout.control.empty())
    text("control", layout.control);
  if (!layout.columns.empty())
    out += "\n[columns]\n";
  for (const auto& [ours, theirs] : layout.columns)
    out += fmt::format("{} = {}\n", toml_text(ours), toml_text(theirs));
  if (!layout.cells.empty())
    out += "\n[cells]\n";
  for (const auto& [word, meaning] : layout.cells)
    out += fmt::format("{} = {}\n", toml_text(word),
                       toml_text(name_of(answer_names, meaning, "a meaning of a cell")));
  return out;
}

bool names_head(const Layout& layout, std::string_view head) {
  return std::ranges::any_of(layout.columns, [&](const auto& column) {
    return look_of(head).ends_with(look_of(column.second));
  });
}

Layout joined(Layout said, const Layout& kept) {
  said.columns.insert(kept.columns.begin(), kept.columns.end());
  said.cells.insert(kept.cells.begin(), kept.cells.end());
  const auto fill = [](auto& own, const auto& other) {
    if (!own)
      own = other;
  };
  fill(said.dates, kept.dates);
  fill(said.counts, kept.counts);
  fill(said.day_before, kept.day_before);
  fill(said.day_after, kept.day_after);
  fill(said.mean_of, kept.mean_of);
  fill(said.side_by_side, kept.side_by_side);
  said.treated.insert(said.treated.end(), kept.treated.begin(), kept.treated.end());
  if (said.occasions.empty())
    said.occasions = kept.occasions;
  // One factor said for both times is said for each of them.
  if (!said.factor) {
    fill(said.factor_before, kept.factor_before);
    fill(said.factor_after, kept.factor_after);
    said.factor = kept.factor;
  }
  if (said.host.empty())
    said.host = kept.host;
  if (said.control.empty())
    said.control = kept.control;
  said.own_words = kept.own_words;
  return said;
}

} // namespace eggfall
