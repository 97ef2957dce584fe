#include "reading_checks.hpp"

#include "kept_table.hpp"
#include "luck.hpp"

#include "eggfall/base/error.hpp"
#include "eggfall/trial/read_cultures.hpp"
#include "intake/open_question.hpp"
#include "support/untidy_table.hpp"
#include "trial/counts_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

using namespace eggfall;

namespace {

/// The first line in which two texts differ, as both have it.
std::string first_difference(const std::string& a, const std::string& b) {
  std::size_t position = 0;
  while (position < std::min(a.size(), b.size()) && a[position] == b[position])
    ++position;
  const auto line = [position](const std::string& text) {
    const std::size_t start = position == 0 ? 0 : text.rfind('\n', position - 1) + 1;
    return text.substr(start, text.find('\n', position) - start);
  };
  const std::string head = a.substr(0, a.find('\n'));
  return fmt::format("{} for {} under {}", line(a), line(b), head);
}

struct Understood {
  std::optional<Trial> trial;
  std::vector<std::string> asked; ///< Keys of the questions, in their order.
  std::string refused;            ///< The message, if it was no question.
};

/// The answer that its owner would give, among those that the question names.
const LayoutSetting* answer_to(const OpenQuestion& question, const KeptTable& kept) {
  for (const LayoutAnswer& answer : question.answers())
    for (const LayoutSetting& setting : answer.settings)
      for (const LayoutSetting& known : kept.answers)
        if (known.key == setting.key && known.value == setting.value)
          return &known;
  return nullptr;
}

Understood understand(const KeptTable& kept) {
  Understood result;
  TableAnswers answers;
  const std::size_t most_questions = kept.answers.size() + 1;
  while (result.asked.size() <= most_questions)
    try {
      UnderstoodTables tables = understand_tables(kept.tables, kept.options, answers.layout);
      if (tables.table.trials.size() == 1)
        result.trial = std::move(tables.table.trials.front());
      else
        result.refused = fmt::format("{} trials of one", tables.table.trials.size());
      return result;
    } catch (const OpenQuestion& question) {
      const LayoutSetting* const answer = answer_to(question, kept);
      result.asked.push_back(answer != nullptr ? answer->key
                             : question.answers().empty()
                                 ? "nothing"
                                 : question.answers().front().settings.front().key);
      if (answer == nullptr)
        return result;
      take(answers, *answer);
    } catch (const InputError& error) {
      result.refused = error.what();
      return result;
    }
  return result;
}

KeptTable kept_of(const FieldTrial& field, std::uint64_t seed) {
  Luck luck({seed, stream_group("sweep", "kept"), static_cast<std::uint32_t>(field.number)});
  return kept_table(field.trial, field.host, luck);
}

std::string form_word(const KeptTable& kept) {
  return kept.form.substr(0, kept.form.find(','));
}

void note_outcome(Tally& tally, const SweptTrial& swept, const std::string& form,
                  const Understood& understood) {
  for (const std::string& key : understood.asked)
    tally.note(swept, fmt::format("{}: asked for {}", form, key));
  if (understood.trial)
    tally.note(swept, fmt::format("{}: understood", form));
  else if (!understood.refused.empty())
    tally.note(swept, fmt::format("{}: refused", form));
}

} // namespace

std::string in_order_of_names(Trial trial) {
  std::ranges::sort(trial.groups, {}, &Group::name);
  for (Group& group : trial.groups)
    std::ranges::sort(group.animals, {}, &Animal::tag);
  return counts_table({trial});
}

std::optional<Trial> check_reading(Tally& tally, const SweptTrial& swept, const FieldTrial& field,
                                   std::uint64_t seed) {
  ReadOptions options;
  options.trial_name = field.trial.name;
  options.host = field.host;
  std::optional<Trial> strict;
  std::string refused;
  try {
    std::vector<Trial> trials =
        read_trials(counts_table({field.trial}), "ours.csv", options).trials;
    if (trials.size() == 1)
      strict = std::move(trials.front());
    else
      refused = fmt::format("{} trials", trials.size());
  } catch (const InputError& error) {
    refused = error.what();
  }
  tally.check(swept, "reading: a trial that was written is read", strict.has_value(),
              [&] { return refused; });
  if (!strict)
    return std::nullopt;

  const KeptTable kept = kept_of(field, seed);
  const Understood understood = understand(kept);
  const std::string form = form_word(kept);
  note_outcome(tally, swept, form, understood);
  // One in another encoding is understood by its words, as any table is, and may be asked about.
  const bool ours = form.starts_with("our own") && kept.in_utf_8;
  tally.check(swept, "reading: a table in our own words is understood",
              !ours || understood.trial.has_value(),
              [&] { return kept.form + ": " + understood.refused; });
  if (!understood.trial)
    return strict;
  const std::string expected = in_order_of_names(*strict);
  const std::string found = in_order_of_names(*understood.trial);
  tally.check(swept, "reading: understood as the same trial, or asked about", found == expected,
              [&] { return kept.form + ": " + first_difference(found, expected); });
  tally.check(swept, "reading: rows in our own form keep their order",
              !ours || !kept.in_order ||
                  counts_table({*understood.trial}) == counts_table({*strict}),
              [&] { return kept.form; });
  return strict;
}

void check_untidy_reading(Tally& tally, const SweptTrial& swept, std::uint64_t seed) {
  UntidyTable table = untidy_table(seed, static_cast<std::uint32_t>(swept.number));
  const KeptTable kept{table.combination, table.tables, table.options, table.answers, true, true};
  Understood understood = understand(kept);
  note_outcome(tally, swept, "untidy", understood);
  if (!understood.trial)
    return;
  ReadOptions options = table.options;
  Trial expected = read_trials(counts_table({table.trial}), "ours.csv", options).trials.front();
  if (!table.names_animals)
    for (std::size_t g = 0; g < expected.groups.size(); ++g)
      for (std::size_t i = 0; i < expected.groups[g].animals.size() &&
                              i < understood.trial->groups.at(g).animals.size();
           ++i)
        expected.groups[g].animals[i].tag = understood.trial->groups[g].animals[i].tag;
  const std::string wanted = in_order_of_names(expected);
  const std::string found = in_order_of_names(*understood.trial);
  tally.check(swept, "reading: understood as the same trial, or asked about", found == wanted,
              [&] { return kept.form + ": " + first_difference(found, wanted); });
}

std::optional<Trial> check_larvae(Tally& tally, const SweptTrial& swept, const FieldTrial& field,
                                  const Trial& trial) {
  if (field.larvae.table.empty())
    return std::nullopt;
  std::optional<Trial> read;
  std::string refused;
  try {
    read = read_cultures(field.larvae.table, "larvae.csv", {trial}).trials.front();
  } catch (const InputError& error) {
    refused = error.what();
  }
  tally.check(swept, "larvae: a table of what was counted is read", read.has_value(),
              [&] { return refused + "\n" + field.larvae.table; });
  if (!read)
    return std::nullopt;
  for (const CountedCulture& counted : field.larvae.cultures) {
    const std::string& name = field.trial.groups[counted.group].name;
    const auto group = std::ranges::find(read->groups, name, &Group::name);
    const Culture& culture = counted.before ? group->culture_before : group->culture_after;
    const bool exact = !culture.percentages;
    for (const WormLarvae& worm : counted.worms) {
      const auto found = std::ranges::find(culture.worms, worm.worm, &WormLarvae::worm);
      const bool there = found != culture.worms.end();
      // Where the number was not told, larvae are of another total; their share is what is known.
      const bool of_its_number = !field.larvae.in_percent || field.larvae.number_told;
      const bool holds = there && (!of_its_number ? culture.percentages.has_value()
                                   : exact        ? found->larvae == worm.larvae
                                           : found->open && found->open->least <= worm.larvae &&
                                                 worm.larvae <= found->open->most);
      tally.check(swept,
                  !of_its_number ? "larvae: percentages without a number are no counts"
                  : exact        ? "larvae: those counted are read as counted"
                                 : "larvae: what a percentage leaves open holds the truth",
                  holds, [&] {
                    return fmt::format("{} of {} in {}: {}", worm.larvae, worm.worm, name,
                                       there ? fmt::format("{}", found->larvae) : "none");
                  });
    }
  }
  return read;
}

std::string kept_text(const FieldTrial& field, std::uint64_t seed) {
  const KeptTable kept = kept_of(field, seed);
  std::string text = kept.form + "\n";
  for (const TableBytes& table : kept.tables)
    text += table.bytes.starts_with("PK") ? "(a workbook)\n" : table.bytes;
  return text;
}
