#include "intake/oocysts.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "formats/toml_reader.hpp"
#include "intake/known_table_words.hpp"
#include "intake/open_question.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace eggfall {
namespace {

constexpr std::string_view opg = "opg";

/// Beginnings of words for coccidia and their oocysts in the languages of the tables, without
/// accents, and of drugs against them. From memory; a table is asked about by them, never read.
constexpr std::array<std::string_view, 16> coccidial{
    "coccid",  "oocyst",     "oocist",    "ooquist", "ookyst",   "oozyst",
    "kokzid",  "eimeria",    "isospora",  "toltraz", "diclazur", "amprolium",
    "ponazur", "decoquinat", "lasalocid", "monensin"};

/// By key: words for heads in French, Spanish or Portuguese that are none in English or German.
std::set<std::string> words_of_egg_languages() {
  return read_toml(known_table_words(), "table words", "eggfall.words/1", [](const Section& root) {
    std::set<std::string> theirs;
    std::set<std::string> others;
    root.each("head", [&](const Section& section) {
      const std::string language = section.needed_text("language");
      std::set<std::string>& words = language == "en" || language == "de" ? others : theirs;
      for (const std::string& phrase : section.texts("words"))
        for (std::string& key : phrase_keys(phrase))
          words.insert(std::move(key));
    });
    theirs.erase(std::string(opg));
    std::erase_if(theirs, [&](const std::string& word) { return others.contains(word); });
    return theirs;
  });
}

bool is_of_egg_languages(const std::string& phrase) {
  static const std::set<std::string> words = words_of_egg_languages();
  return std::ranges::any_of(phrase_keys(phrase),
                             [](const std::string& key) { return words.contains(key); });
}

/// All that stands in the heads, and in the titles and notes around the table.
std::vector<std::string> words_around(const SheetReading& reading) {
  std::vector<std::string> texts = reading.around;
  for (const ColumnReading& column : reading.columns)
    texts.push_back(column.head);
  return texts;
}

/// The first text that speaks of coccidia.
std::optional<std::string> coccidial_text(const SheetReading& reading) {
  const auto speaks = [](std::string_view text) {
    const std::string look = unaccented_look_of(normalised(text));
    return std::ranges::any_of(
        coccidial, [&](std::string_view word) { return look.find(word) != std::string::npos; });
  };
  for (const std::string& text : words_around(reading))
    if (speaks(text))
      return text;
  for (const ColumnReading& column : reading.columns)
    if (column.kind == ColumnReading::Kind::attribute &&
        (column.name == "drench" || column.name == "group"))
      for (const SampleRow& row : reading.rows)
        if (speaks(row.cell(column.index)))
          return std::string(row.cell(column.index));
  return std::nullopt;
}

bool says_opg(std::string_view text, const TableWords& words) {
  return std::ranges::any_of(words.pieces_of(text), [](const HeadPiece& piece) {
    return piece.means == HeadWord::epg && look_of(piece.text) == opg;
  });
}

} // namespace

void ask_for_oocysts(const SheetReading& reading, const Layout& layout) {
  const TableWords& words = layout.words();
  const auto head = std::ranges::find_if(reading.columns, [&](const ColumnReading& column) {
    // Eggs told apart by a name, "Coccidia OPG", are what that name says.
    return column.kind == ColumnReading::Kind::count && !column.by_layout && column.worm.empty() &&
           says_opg(column.head, words);
  });
  const auto title = std::ranges::find_if(
      reading.around, [&](const std::string& text) { return says_opg(text, words); });
  const bool in_head = head != reading.columns.end();
  // A title tells the unit of counts whose heads say none.
  const bool in_title =
      title != reading.around.end() && !layout.counts &&
      std::ranges::any_of(reading.columns, [](const ColumnReading& column) {
        return column.kind == ColumnReading::Kind::count && !column.unit && !column.by_layout;
      });
  if (!in_head && !in_title)
    return;
  const std::optional<std::string> coccidia = coccidial_text(reading);
  if (!coccidia)
    for (const std::string& text : words_around(reading))
      for (const HeadPiece& piece : words.pieces_of(text))
        if (piece.means && is_of_egg_languages(piece.text))
          return;
  Problem place{
      reading.sheet->source,
      reading.header_line,
      0,
      {},
      fmt::format(
          "OPG, which may be oocysts per gram{}: these are of coccidia, which are no worms, "
          "and no cut-off is for them",
          coccidia ? fmt::format(" ({} says so)", in_quotes(*coccidia)) : std::string()),
      {}};
  constexpr const char* means =
      "if these are eggs of worms per gram; oocysts cannot be judged here";
  if (!in_head)
    throw OpenQuestion(std::move(place), {answer("counts", "epg", means)});
  place.column = head->index + 1;
  place.column_name = head->head;
  std::optional<SampleTime> time;
  if (const auto occasion = occasion_said(head->time))
    time = SampleTime{*occasion, 0};
  throw OpenQuestion(std::move(place), {answer("column", our_name(*head, time) + '=' + head->head,
                                               fmt::format("{}; and so each such column", means))});
}

} // namespace eggfall
