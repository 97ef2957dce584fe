#include "intake/table_files.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "trial/field_words.hpp"
#include "trial/trial_columns.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>

namespace eggfall {
namespace {

/// "Before,After": sheets of one workbook; one name with a comma in it is tried as it is by the
/// reader, which lists the sheets.
std::vector<std::string> parted_by_commas(const std::string& text) {
  std::vector<std::string> parts;
  std::size_t start = 0;
  while (true) {
    const std::size_t end = text.find(',', start);
    parts.emplace_back(trimmed(std::string_view(text).substr(start, end - start)));
    if (end == std::string::npos)
      return parts;
    start = end + 1;
  }
}

std::string_view without_folder_and_ending(std::string_view name) {
  if (const std::size_t slash = name.find_last_of("/\\"); slash != std::string_view::npos)
    name.remove_prefix(slash + 1);
  // A name that begins with a dot has no ending.
  if (const std::size_t dot = name.rfind('.'); dot != std::string_view::npos && dot > 0)
    name = name.substr(0, dot);
  return name;
}

std::optional<MultiplicationFactor> factor(const std::optional<double>& own,
                                           const std::optional<double>& shared) {
  const auto& value = own ? own : shared;
  return value ? std::optional(MultiplicationFactor(*value)) : std::nullopt;
}

double number_of(const LayoutSetting& setting) {
  const auto number = parse_number(setting.value);
  if (!number)
    throw InputError(
        fmt::format("{}: found {}; expected a number", setting.key, in_quotes(setting.value)));
  return *number;
}

unsigned repeats_of(const LayoutSetting& setting) {
  const auto number = parse_whole_number(setting.value);
  if (!number || *number < 2 || *number > most_repeats)
    throw InputError(fmt::format("{}: found {}; expected a whole number from 2 to {}", setting.key,
                                 in_quotes(setting.value), most_repeats));
  return static_cast<unsigned>(*number);
}

/// How an answer to a key is taken.
struct KeyTaker {
  std::string_view key;
  void (*take)(TableAnswers&, const LayoutSetting&);
};

constexpr auto key_takers = std::to_array<KeyTaker>({
    {"column", [](TableAnswers& to, const LayoutSetting& it) { add_column(to.layout, it.value); }},
    {"cell", [](TableAnswers& to, const LayoutSetting& it) { add_cell(to.layout, it.value); }},
    {"dates", [](TableAnswers& to,
                 const LayoutSetting& it) { to.layout.dates = parse_date_order(it.value); }},
    {"counts", [](TableAnswers& to,
                  const LayoutSetting& it) { to.layout.counts = parse_count_unit(it.value); }},
    {"day-before",
     [](TableAnswers& to, const LayoutSetting& it) { to.layout.day_before = it.value; }},
    {"day-after",
     [](TableAnswers& to, const LayoutSetting& it) { to.layout.day_after = it.value; }},
    {"mean-of",
     [](TableAnswers& to, const LayoutSetting& it) { to.layout.mean_of = repeats_of(it); }},
    {"side-by-side",
     [](TableAnswers& to, const LayoutSetting& it) {
       to.layout.side_by_side = parse_side_by_side(it.value);
     }},
    {"treated",
     [](TableAnswers& to, const LayoutSetting& it) { to.layout.treated.push_back(it.value); }},
    {"occasions",
     [](TableAnswers& to, const LayoutSetting& it) {
       to.layout.occasions.clear();
       for (const std::string& part : parted_by_commas(it.value))
         to.layout.occasions.push_back(parse_occasion(part));
     }},
    {"factor", [](TableAnswers& to, const LayoutSetting& it) { to.layout.factor = number_of(it); }},
    {"factor-before",
     [](TableAnswers& to, const LayoutSetting& it) { to.layout.factor_before = number_of(it); }},
    {"factor-after",
     [](TableAnswers& to, const LayoutSetting& it) { to.layout.factor_after = number_of(it); }},
    {"host", [](TableAnswers& to, const LayoutSetting& it) { to.layout.host = it.value; }},
    {"control", [](TableAnswers& to, const LayoutSetting& it) { to.layout.control = it.value; }},
    {"sheet", [](TableAnswers& to, const LayoutSetting& it) { to.sheets = it.value; }},
});

} // namespace

void take(TableAnswers& answers, const LayoutSetting& setting) {
  std::string keys;
  for (const KeyTaker& taker : key_takers) {
    if (taker.key == setting.key)
      return taker.take(answers, setting);
    keys += (keys.empty() ? "" : ", ") + std::string(taker.key);
  }
  throw InputError(
      fmt::format("settings: found the key {}; expected one of {}", in_quotes(setting.key), keys));
}

ReadOptions read_options(const Layout& layout, std::string_view name) {
  ReadOptions read;
  read.factor_before = factor(layout.factor_before, layout.factor);
  read.factor_after = factor(layout.factor_after, layout.factor);
  read.host = host_told(layout.host);
  read.control = layout.control;
  read.trial_name = normalised(without_folder_and_ending(name));
  if (read.trial_name == "-") // standard input
    read.trial_name.clear();
  if (read.trial_name.empty()) // or nothing in the file's name can be shown
    read.trial_name = "trial";
  return read;
}

UnderstoodTables understand_files(const std::vector<TableFile>& files, const TableAnswers& answers,
                                  NeededCounts needed) {
  if (files.empty())
    throw InputError("found no table; expected one or more");
  std::vector<TableBytes> tables;
  for (const TableFile& file : files) {
    const std::string trial = read_options(answers.layout, file.name).trial_name;
    for (std::string& sheet : parted_by_commas(answers.sheets))
      tables.push_back({file.bytes, {file.name, std::move(sheet)}, trial});
  }
  ReadOptions how = read_options(answers.layout, files.front().name);
  how.needed = needed;
  return understand_tables(tables, how, answers.layout);
}

} // namespace eggfall
