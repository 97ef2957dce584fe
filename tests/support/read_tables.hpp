#pragma once

#include "eggfall/trial/trial.hpp"
#include "formats/raw_sheets.hpp"
#include "intake/sheet_reading.hpp"
#include "intake/understand.hpp"
#include "support/support.hpp"

#include <string>
#include <utility>
#include <vector>

/// Tables as people keep them, called "t.csv", read as far as a test needs.
namespace support {

/// The owner's options, each "key=value" as on the command line: "column=group=Mob".
inline eggfall::Layout layout_of(const std::vector<std::pair<std::string, std::string>>& options) {
  eggfall::Layout layout;
  for (const auto& [key, value] : options) {
    if (key == "column")
      add_column(layout, value);
    else if (key == "cell")
      add_cell(layout, value);
    else if (key == "dates")
      layout.dates = eggfall::parse_date_order(value);
    else if (key == "counts")
      layout.counts = eggfall::parse_count_unit(value);
    else if (key == "day-before")
      layout.day_before = value;
    else if (key == "day-after")
      layout.day_after = value;
    else if (key == "mean-of")
      layout.mean_of = static_cast<unsigned>(std::stoul(value));
    else if (key == "occasions")
      layout.occasions.push_back(eggfall::parse_occasion(value));
    else
      throw eggfall::InputError("no such option: " + key);
  }
  return layout;
}

/// A sheet and what its columns and rows are taken for. The sheet must not be moved.
struct ReadText {
  eggfall::RawBook book;
  eggfall::Problems problems;
  eggfall::ReadingLog log;
  eggfall::SheetReading reading;

  explicit ReadText(const std::string& text, const eggfall::Layout& layout = {})
      : book(eggfall::read_raw(text, "t.csv")),
        reading(read_sheet_columns(book.sheets.at(0), layout, problems, log).value()) {}
  ReadText(const ReadText&) = delete;
  ReadText& operator=(const ReadText&) = delete;
};

inline eggfall::ReadOptions with_factor(double factor) {
  eggfall::ReadOptions options;
  options.factor_before = eggfall::MultiplicationFactor(factor);
  options.factor_after = eggfall::MultiplicationFactor(factor);
  options.host = "sheep";
  return options;
}

/// Texts by the names of their files, without ".csv", which name their trials too.
inline eggfall::UnderstoodTables
understood(const std::vector<std::pair<std::string, std::string>>& texts,
           const eggfall::Layout& layout = {}, double factor = 50) {
  std::vector<eggfall::TableBytes> tables;
  for (const auto& [name, text] : texts)
    tables.push_back({text, name + ".csv", name});
  return understand_tables(tables, with_factor(factor), layout);
}

inline eggfall::UnderstoodTables
understood(const std::string& text, const eggfall::Layout& layout = {}, double factor = 50) {
  return understood({{"t", text}}, layout, factor);
}

/// Why it is not understood.
inline std::string not_understood(const std::string& text, const eggfall::Layout& layout = {},
                                  double factor = 50) {
  return input_error([&] { understood(text, layout, factor); });
}

/// Eggs seen of each animal: "White 101: 9 to 0", and "-" for no sample.
inline std::vector<std::string> eggs_of(const eggfall::UnderstoodTables& tables) {
  const auto eggs = [](const std::optional<eggfall::Count>& count) {
    return count ? std::to_string(count->eggs.value()) : std::string("-");
  };
  std::vector<std::string> out;
  for (const eggfall::Trial& trial : tables.table.trials)
    for (const eggfall::Group& group : trial.groups)
      for (const eggfall::Animal& animal : group.animals)
        out.push_back(group.name + (group.role == eggfall::Role::control ? " (control) " : " ") +
                      animal.tag + ": " + eggs(animal.before) + " to " + eggs(animal.after));
  return out;
}

using Lines = std::vector<std::string>;

} // namespace support
