#include "intake/table_words.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "formats/toml_reader.hpp"
#include "intake/known_table_words.hpp"
#include "trial/field_words.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<CellWord, 3> cell_word_names{{
    {CellWord::none_seen, "none-seen"},
    {CellWord::not_sampled, "not-sampled"},
    {CellWord::two_readings, "two-readings"},
}};

constexpr Names<Role, 2> role_word_names{{
    {Role::control, "control"},
    {Role::treated, "treated"},
}};

constexpr Names<bool, 2> answer_word_names{{
    {true, "yes"},
    {false, "no"},
}};

constexpr Names<WordSource, 2> word_source_names{{
    {WordSource::memory, "memory"},
    {WordSource::practice, "practice"},
}};

int month_meant(const Section& section) {
  const auto month = section.number("means", 1, 12);
  if (!month || *month != std::floor(*month))
    section.refuse(month ? fmt::format("the month {}", *month) : "no key means",
                   "means = 1 for January, to 12");
  return static_cast<int>(*month);
}

std::string host_meant(const Section& section) {
  const std::string word = section.needed_text("means");
  if (auto expected = expected_host(word))
    section.refuse_key("means", in_quotes(word), *std::move(expected));
  return canonical_host(word);
}

} // namespace

/// Makes words of TOML; those of a user's may not claim a source.
class TableWordsReader {
public:
  explicit TableWordsReader(bool of_user) : of_user_(of_user) {}

  TableWords read(const Section& root) {
    const auto true_for_all = [](const Section&) { return true; };
    read_book(root, "head", words_.heads_,
              [](const Section& section) { return section.choice("means", head_word_names); });
    read_book(root, "cell", words_.cells_,
              [](const Section& section) { return section.choice("means", cell_word_names); });
    read_book(root, "role", words_.roles_,
              [](const Section& section) { return section.choice("means", role_word_names); });
    read_book(root, "yes-no", words_.answers_,
              [](const Section& section) { return section.choice("means", answer_word_names); });
    read_book(root, "month", words_.months_, month_meant);
    read_book(root, "host-word", words_.hosts_, host_meant);
    read_book(root, "sum", words_.sums_, true_for_all);
    read_book(root, "weekday", words_.weekdays_, true_for_all);
    return std::move(words_);
  }

private:
  template <typename Value, typename Meant>
  void read_book(const Section& root, std::string_view kind, PhraseBook<Value>& book, Meant meant) {
    const bool has_meaning = kind != "sum" && kind != "weekday";
    root.each(kind, [&](const Section& section) {
      const bool from_memory = is_from_memory(section, has_meaning);
      const Value value = meant(section);
      if (!section.has("words"))
        section.refuse("no key words", "words = [\"...\", \"...\"]");
      for (const std::string& phrase : section.texts("words")) {
        if (book.add(phrase, value))
          section.refuse_key(
              "words", in_quotes(phrase) + ", which stands under another meaning too",
              "each phrase, whatever its case, marks and accents, under one meaning");
        note_source(phrase, from_memory);
      }
    });
  }

  void note_source(const std::string& phrase, bool from_memory) {
    for (const std::string& key : phrase_keys(phrase)) {
      bool& noted = words_.from_memory_.emplace(key, from_memory).first->second;
      noted = noted && from_memory;
    }
  }

  bool is_from_memory(const Section& section, bool has_meaning) const {
    std::vector<std::string_view> keys{"words"};
    if (has_meaning)
      keys.insert(keys.begin(), "means");
    if (!of_user_)
      keys.insert(keys.end(), {"language", "provenance"});
    section.allow_only(keys);
    if (of_user_)
      return false;
    section.needed_text("language");
    return section.choice("provenance", word_source_names) == WordSource::memory;
  }

  bool of_user_;
  TableWords words_;
};

std::string_view to_string(CellWord word) {
  return name_of(cell_word_names, word, "a word of a cell");
}

const TableWords& TableWords::known() {
  static const TableWords words =
      read_toml(known_table_words(), "table words", "eggfall.words/1", [](const Section& root) {
        root.allow_only(
            {"schema", "head", "cell", "role", "yes-no", "sum", "month", "weekday", "host-word"});
        return TableWordsReader(false).read(root);
      });
  return words;
}

TableWords TableWords::with(const Section& root) const {
  TableWords words = TableWordsReader(true).read(root);
  words.heads_ = words.heads_.over(heads_);
  words.cells_ = words.cells_.over(cells_);
  words.roles_ = words.roles_.over(roles_);
  words.answers_ = words.answers_.over(answers_);
  words.sums_ = words.sums_.over(sums_);
  words.months_ = words.months_.over(months_);
  words.weekdays_ = words.weekdays_.over(weekdays_);
  words.hosts_ = words.hosts_.over(hosts_);
  words.from_memory_.insert(from_memory_.begin(), from_memory_.end());
  return words;
}

std::vector<HeadPiece> TableWords::pieces_of(std::string_view header_cell) const {
  return head_pieces(header_cell, heads_);
}

std::optional<CellWord> TableWords::cell(std::string_view text) const {
  return cells_.meaning(text);
}

std::optional<bool> TableWords::yes_or_no(std::string_view text) const {
  return answers_.meaning(text);
}

std::optional<Role> TableWords::role(std::string_view text) const {
  return roles_.meaning(text);
}

bool TableWords::sums_up(std::string_view cell) const {
  const std::string text = normalised(cell);
  std::string_view words = text;
  if (const std::size_t bracket = words.find('(');
      bracket != std::string_view::npos && bracket > 0 && words.ends_with(')'))
    words = trimmed(words.substr(0, bracket));
  return is_sum_word(words) || sums_.meaning(words) || sums_.meaning(text);
}

std::optional<int> TableWords::month(std::string_view word) const {
  return months_.meaning(word);
}

bool TableWords::is_weekday(std::string_view word) const {
  return weekdays_.meaning(word).has_value();
}

std::optional<std::string> TableWords::host(std::string_view word) const {
  if (auto host = hosts_.meaning(word))
    return host;
  const auto known = known_host(word);
  return known ? std::optional(std::string(known->name)) : std::nullopt;
}

std::vector<std::string> TableWords::nearest_heads(std::string_view head) const {
  const std::vector<std::string_view> phrases(heads_.phrases().begin(), heads_.phrases().end());
  const std::vector<std::string_view> nearest = nearest_words(head, phrases);
  return {nearest.begin(), nearest.end()};
}

bool TableWords::from_memory(std::string_view phrase) const {
  for (const std::string& key : phrase_keys(phrase))
    if (const auto found = from_memory_.find(key); found != from_memory_.end())
      return found->second;
  return false;
}

} // namespace eggfall
