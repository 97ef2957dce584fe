#include "intake/known_table_words.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "formats/toml_reader.hpp"
#include "intake/table_words.hpp"
#include "support/support.hpp"

#include <array>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

using namespace eggfall;

namespace {

/// `use(section, phrase)` of each phrase of a kind of list.
template <typename Use> void each_known_phrase(std::string_view kind, Use use) {
  read_toml(known_table_words(), "words", "eggfall.words/1", [&](const Section& root) {
    root.each(kind, [&](const Section& section) {
      for (const std::string& phrase : section.texts("words"))
        use(section, phrase);
    });
    return 0;
  });
}

} // namespace

TEST_CASE("The words are compiled in as their file has them") {
  std::ifstream file(EGGFALL_SOURCE_DIR "/src/data/table_words.toml", std::ios::binary);
  REQUIRE(file);
  const std::string text(std::istreambuf_iterator<char>(file), {});
  CHECK(known_table_words() == text);
}

TEST_CASE("No phrase stands under two meanings, whatever its case, marks and accents") {
  CHECK_NOTHROW(TableWords::known());
  std::map<std::string, std::string> meanings;
  each_known_phrase("head", [&](const Section& section, const std::string& phrase) {
    const std::string means = section.needed_text("means");
    for (const std::string& key : phrase_keys(phrase)) {
      INFO(phrase);
      CHECK(meanings.emplace(key, means).first->second == means);
    }
  });
  CHECK(meanings.size() > 2000);
}

TEST_CASE("Each phrase for a head is one piece of its meaning, as it is written and otherwise") {
  const TableWords& words = TableWords::known();
  std::set<std::string> seen;
  each_known_phrase("head", [&](const Section& section, const std::string& phrase) {
    const std::string means = section.needed_text("means");
    seen.insert(means);
    const bool letter_of_time =
        phrase.size() == 1 && (means == "day" || means == "week" || means == "hour");
    const bool has_words = !word_runs(phrase).empty();
    for (const std::string& written :
         {phrase, has_words ? phrase + ":" : phrase, lower_case(phrase)}) {
      INFO(written);
      const std::vector<HeadPiece> pieces = words.pieces_of(written);
      REQUIRE(pieces.size() == 1);
      if (letter_of_time)
        CHECK_FALSE(pieces[0].means);
      else {
        REQUIRE(pieces[0].means);
        CHECK(to_string(*pieces[0].means) == means);
      }
    }
  });
  CHECK(seen.size() == head_word_names.size()); // No meaning is without a word.
}

TEST_CASE("What is not English is marked as memory, and English as practice") {
  const std::set<std::string> languages{"en", "de", "fr", "es", "pt"};
  for (const char* kind : {"head", "cell", "role", "sum", "month", "weekday", "host-word"}) {
    std::set<std::string> seen;
    each_known_phrase(kind, [&](const Section& section, const std::string& phrase) {
      INFO(kind << ": " << phrase);
      const std::string language = section.needed_text("language");
      CHECK(languages.contains(language));
      CHECK(section.needed_text("provenance") == (language == "en" ? "practice" : "memory"));
      seen.insert(language);
    });
    // English hosts stand in trial/field_words.
    CHECK(seen.size() == (std::string_view(kind) == "host-word" ? 4U : 5U));
  }
}

TEST_CASE(
    "Every month has a name in each language, and its English abbreviation of three letters") {
  const TableWords& words = TableWords::known();
  constexpr std::array<const char*, 12> english{"jan", "FEB", "Mar", "apr", "May", "jun",
                                                "Jul", "Aug", "sep", "Oct", "nov", "dec"};
  constexpr std::array<const char*, 12> others{
      "J\xC3\xA4nner", "f\xC3\xA9vrier", "Maerz", "abril", "mai", "junho",
      "juil",          "aout",           "set",   "out",   "Nov", "dezembro"};
  for (int month = 1; month <= 12; ++month) {
    CHECK(words.month(english[static_cast<std::size_t>(month - 1)]) == month);
    CHECK(words.month(others[static_cast<std::size_t>(month - 1)]) == month);
  }
  CHECK_FALSE(words.month("m"));
  CHECK_FALSE(words.month("13"));
}
