#include "intake/kinds_at_odds.hpp"

#include "base/quoted_list.hpp"
#include "base/user_text.hpp"
#include "intake/group_names.hpp"
#include "intake/open_question.hpp"
#include "trial/field_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>

namespace eggfall {
namespace {

/// A column of counts by its first cell.
struct CountedColumn {
  SampleTime time;
  std::string worm; ///< Empty: the main counts.
  const RawCount* first = nullptr;

  const std::string& head() const { return first->cell.head; }

  Problem problem(std::string found, Wording expected) const {
    return {first->cell.source, 0, first->cell.column, head(), std::move(found),
            std::move(expected)};
  }
};

/// In the order of their heads, so that of two answers the same is offered first each time.
std::vector<CountedColumn> counted_columns(const std::vector<RawAnimal>& animals) {
  std::map<std::pair<std::string, SampleTime>, CountedColumn> found;
  for (const RawAnimal& animal : animals)
    for (const auto& [key, count] : animal.counts)
      found.try_emplace({count.cell.head, key.time}, CountedColumn{key.time, key.worm, &count});
  std::vector<CountedColumn> columns;
  for (auto& [head, column] : found)
    columns.push_back(std::move(column));
  return columns;
}

bool says_strongyles(std::string_view head, const TableWords& words) {
  return std::ranges::any_of(words.pieces_of(head), [](const HeadPiece& piece) {
    const auto worm = piece.means ? std::nullopt : known_worm(piece.text);
    return worm && worm->name == "strongyles";
  });
}

[[noreturn]] void refuse_one_kind(const std::vector<CountedColumn>& columns) {
  constexpr std::size_t most_listed = 8;
  std::vector<std::string> heads;
  for (const CountedColumn& column : columns)
    heads.push_back(column.head());
  const CountedColumn& first = columns.front();
  const std::string found =
      fmt::format("counts of {} alone, under {}", first.worm, quoted_list(heads, most_listed));
  if (const auto stranger = not_a_roundworm(first.worm))
    throw InputError({first.problem(
        found, "counts of the eggs of roundworms before treatment and after, by which a drench is "
               "judged here; no published cut-off is for these")});
  throw InputError({first.problem(
      found, fmt::format("counts of all strongyle eggs before treatment and after, in columns "
                         "beside these; or, to judge the drench by {0} alone, heads that name no "
                         "worm (EPG before, EPG after) and a column \"worm\" with {0} in each row",
                         first.worm))});
}

[[noreturn]] void ask_whether_the_same(const CountedColumn& silent, const CountedColumn& said) {
  std::vector<LayoutAnswer> answers;
  for (const CountUnit unit : {CountUnit::epg, CountUnit::eggs})
    if (silent.first->unit.value_or(unit) == unit)
      answers.push_back(answer(
          "column", fmt::format("{}_{}={}", to_string(unit), to_string(silent.time), silent.head()),
          "if strongyle eggs alone were counted there too; if not, put those "
          "in their place"));
  throw OpenQuestion(
      silent.problem(
          fmt::format("eggs whose kind is not told, beside strongyle eggs under {}: other eggs "
                      "counted at one time alone would look like a fall, or hide one",
                      in_quotes(said.head())),
          {}),
      std::move(answers));
}

} // namespace

void ask_for_kinds_at_odds(const std::vector<RawAnimal>& animals, const Layout& layout) {
  const std::vector<CountedColumn> columns = counted_columns(animals);
  const auto is_main = [](const CountedColumn& column) { return column.worm.empty(); };
  if (!columns.empty() && std::ranges::none_of(columns, is_main))
    refuse_one_kind(columns);
  const auto asked = [&](const CountedColumn& column) {
    return is_main(column) && !names_head(layout, column.head());
  };
  for (const CountedColumn& silent : columns)
    for (const CountedColumn& said : columns)
      if (asked(silent) && asked(said) && silent.time.occasion != said.time.occasion &&
          !says_strongyles(silent.head(), layout.words()) &&
          says_strongyles(said.head(), layout.words()))
        ask_whether_the_same(silent, said);
}

void refuse_rows_by_worm(const SheetReading& reading) {
  const ColumnReading* const tag = reading.attribute("animal");
  const ColumnReading* const worm = reading.attribute("worm");
  if (tag == nullptr || worm == nullptr)
    return;
  const auto text_of = [](const SampleRow& row, const ColumnReading* column) {
    return column != nullptr ? std::string(row.cell(column->index)) : std::string();
  };
  std::map<std::vector<std::string>, const SampleRow*> first_of;
  const bool merged = is_merged(reading, *tag);
  std::string animal;
  for (const SampleRow& row : reading.rows) {
    if (const std::string own = text_of(row, tag); !own.empty() || !merged)
      animal = own;
    if (animal.empty())
      continue;
    const auto [found, fresh] = first_of.try_emplace(
        {animal, text_of(row, reading.attribute("group")), text_of(row, reading.when()),
         text_of(row, reading.attribute("date"))},
        &row);
    const std::string here = text_of(row, worm);
    const std::string first = text_of(*found->second, worm);
    if (fresh || canonical_worm(here) == canonical_worm(first))
      continue;
    const Source& source = reading.sheet->source;
    throw InputError({Problem{
        source, row.row->line, worm->index + 1, worm->head,
        fmt::format("{} again for {}, with a row for {} on {}", in_quotes(here), in_quotes(animal),
                    in_quotes(first), source.line(found->second->row->line)),
        "one row a sample, with the counts of all strongyle eggs in one column and those of eggs "
        "told apart in columns beside it (EPG before, Nematodirus EPG before); worms told by their "
        "larvae go into a table of larvae"}});
  }
}

} // namespace eggfall
