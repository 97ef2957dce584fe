// Tables as people keep them. The first byte chooses what their owner says of them, but of a
// workbook, whose first it is.
#include "intake/understand.hpp"

#include "counts_checks.hpp"
#include "harness.hpp"

#include "base/text.hpp"
#include "intake/reading_json.hpp"
#include "intake/reading_text.hpp"
#include "intake/unlabelled_sums.hpp"
#include "trial/counts_table.hpp"

#include <optional>
#include <utility>

namespace {

/// Each bit is something said, so that '@' says nothing and 'A' to 'O' say one thing or several.
eggfall::Layout chosen_by(char byte) {
  const auto bits = static_cast<unsigned char>(byte);
  eggfall::Layout layout;
  if ((bits & 1U) != 0)
    layout.dates = eggfall::DateOrder::day_first;
  if ((bits & 2U) != 0)
    layout.counts = eggfall::CountUnit::epg;
  if ((bits & 4U) != 0)
    layout.mean_of = 2;
  if ((bits & 8U) != 0)
    layout.cells = {{"-", eggfall::CellWord::none_seen}, {"nd", eggfall::CellWord::not_sampled}};
  return layout;
}

/// Whether an animal is called as sums are, so that its numbers tell what it is.
bool has_named_sum(const eggfall::TrialTable& table) {
  for (const eggfall::Trial& trial : table.trials)
    for (const eggfall::Group& group : trial.groups)
      for (const eggfall::Animal& animal : group.animals)
        if (eggfall::names_a_sum(animal.tag))
          return true;
  return false;
}

/// Nothing for bytes that are no counts table in our own form, or one that may hold sums.
std::optional<eggfall::TrialTable> strictly_read(std::string_view bytes) {
  try {
    auto table = eggfall::read_trials(bytes, "t.csv", fuzz::with_factor());
    return has_named_sum(table) ? std::nullopt : std::optional(std::move(table));
  } catch (const eggfall::InputError&) {
    return std::nullopt;
  }
}

void check_told(const eggfall::UnderstoodTables& tables) {
  for (const std::string& text : {eggfall::reading_text(tables), eggfall::reading_json(tables)})
    fuzz::promise(!eggfall::first_invalid_utf8(text), "what was understood is told in UTF-8");
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::Layout layout = chosen_by(bytes.empty() ? '@' : bytes[0]);
  const bool workbook = bytes.starts_with("PK"); // and 'P' says nothing, as '@' does
  const std::string table(bytes.substr(bytes.empty() || workbook ? 0 : 1));
  const auto strict = layout.mean_of ? std::nullopt : strictly_read(table);
  const auto understand = [&] {
    return eggfall::understand_tables({{table, "t.csv", "trial"}}, with_factor(), layout);
  };
  const eggfall::UnderstoodTables tables =
      strict ? accepted("a counts table in our own form is understood", understand) : understand();
  promise(!tables.table.trials.empty(), "what holds no trial is refused");
  check_told(tables);
  check_written_and_read_back(tables.table.trials);
  if (!strict)
    return;
  promise(eggfall::counts_table(tables.table.trials) == eggfall::counts_table(strict->trials),
          "a counts table in our own form is read as it stands");
  promise(tables.all.empty(), "a counts table in our own form leaves nothing to be understood");
}
