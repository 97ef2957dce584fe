#include "intake/phrase_book.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

PhraseBook<int> numbered(const std::vector<std::string>& phrases) {
  PhraseBook<int> book;
  int number = 0;
  for (const std::string& phrase : phrases)
    REQUIRE_FALSE(book.add(phrase, ++number));
  return book;
}

} // namespace

TEST_CASE("A phrase is found by its words, whatever their case, marks and accents") {
  const PhraseBook<int> book =
      numbered({"ear tag", "M\xC3\xA4rz", "n/s", "-", "nombre d'\xC5\x93ufs"});
  for (const char* text : {"ear tag", "Ear-Tag", "EARTAG", " ear_tag: ", "(ear tag)"})
    CHECK(book.meaning(text) == 1);
  for (const char* text : {"M\xC3\xA4rz", "MA\xCC\x88RZ", "marz", "Maerz"})
    CHECK(book.meaning(text) == 2);
  for (const char* text : {"n/s", "N.S.", "ns", "N S", "n-s"})
    CHECK(book.meaning(text) == 3);
  for (const char* text : {"-", " - ", "\xE2\x80\x93", "\xE2\x80\x94", "\xE2\x88\x92"})
    CHECK(book.meaning(text) == 4);
  for (const char* text :
       {"nombre d'\xC5\x93ufs", "Nombre d\xE2\x80\x99oeufs", "NOMBRE D'\xC5\x92UFS"})
    CHECK(book.meaning(text) == 5);
  for (const char* text : {"", "ear", "ear tags", "n", "--", "5", "-5"})
    CHECK_FALSE(book.meaning(text));
}

TEST_CASE("Marks that say more than where a word ends leave it unknown") {
  const PhraseBook<int> book = numbered({"neg", "n/a", "clear?"});
  for (const char* text : {"neg?", "neg*", "*neg", "#n/a", "=neg", "<neg", "neg!"})
    CHECK_FALSE(book.meaning(text));
  CHECK(book.meaning("neg.") == 1);
  CHECK(book.meaning("Clear ?") == std::nullopt); // Known as it is written alone.
  CHECK(book.meaning("CLEAR?") == 3);
}

TEST_CASE("A phrase has one meaning") {
  PhraseBook<int> book = numbered({"ear tag"});
  CHECK_FALSE(book.add("Ear tag", 1)); // the same again
  CHECK(book.add("eartag", 2) == 1);
  CHECK(book.meaning("eartag") == 1);
  CHECK_FALSE(book.add("tag", 2));
  CHECK(book.phrases() == std::vector<std::string>{"ear tag", "Ear tag", "tag"});
}

TEST_CASE("A book over another wins where both know a phrase") {
  const PhraseBook<int> own = numbered({"x", "mob"});
  const PhraseBook<int> known = numbered({"egg", "eggs per gram", "Mob"});
  const PhraseBook<int> both = own.over(known);
  CHECK(both.meaning("mob") == 2);
  CHECK(both.meaning("egg") == 1);
  CHECK(both.meaning("x") == 1);
  CHECK(both.most_words() == 3);
  CHECK(own.most_words() == 1);
  CHECK(both.phrases().size() == 5);
  CHECK(PhraseBook<int>().most_words() == 0);
}

TEST_CASE("Keys hold the look, the words and the words together, each once") {
  CHECK(phrase_keys("Ear-Tag") == std::vector<std::string>{"ear-tag", "ear tag", "eartag"});
  CHECK(phrase_keys("tag") == std::vector<std::string>{"tag"});
  CHECK(phrase_keys("M\xC3\xA4rz") == std::vector<std::string>{"marz", "maerz"});
  CHECK(phrase_keys("neg?") == std::vector<std::string>{"neg?"});
  CHECK(phrase_keys("-") == std::vector<std::string>{"-"});
  CHECK(word_key("Ewe's") == "ewes");
  CHECK(word_key("N\xC2\xB0") == "no");
  CHECK(spelt_out_word_key("F\xC3\xA4kal") == "faekal");
}
