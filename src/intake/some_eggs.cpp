#include "intake/some_eggs.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "trial/name_words.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace eggfall {
namespace {

/// Without accents. English words are common practice; those of other languages were written down
/// from memory, which can do no harm here: no count is read by them.
constexpr std::array<std::string_view, 87> some_words{
    "tntc",         "tmtc",        "many",       "numerous",   "innumerable", "countless",
    "uncountable",  "lots",        "lot",        "plenty",     "high",        "heavy",
    "massive",      "severe",      "moderate",   "medium",     "positive",    "pos",
    "scanty",       "scant",       "sparse",     "few",        "some",        "several",
    "trace",        "traces",      "present",    "seen",       "found",       "detected",
    "occasional",   "rare",        "light",      "low",        "abundant",    "viele",
    "viel",         "zahlreich",   "zahlreiche", "massenhaft", "hochgradig",  "mittelgradig",
    "geringgradig", "hgr",         "mgr",        "ggr",        "positiv",     "vereinzelt",
    "vereinzelte",  "einzelne",    "wenige",     "wenig",      "einige",      "vorhanden",
    "nachgewiesen", "positif",     "nombreux",   "nombreuses", "beaucoup",    "quelques",
    "rares",        "presence",    "presents",   "eleve",      "positivo",    "positiva",
    "muchos",       "muchisimos",  "abundante",  "abundantes", "pocos",       "escasos",
    "algunos",      "presente",    "presentes",  "incontable", "incontables", "alto",
    "muitos",       "poucos",      "alguns",     "raros",      "incontavel",  "incontaveis",
    "innombrables", "innombrable", "unzahlbar"};

/// Words that say nothing against it.
constexpr std::array<std::string_view, 35> words_beside{
    "too",        "very",      "to",          "count",     "a",      "an",     "of",
    "egg",        "eggs",      "ova",         "epg",       "worm",   "worms",  "strongyle",
    "strongyles", "infection", "infestation", "burden",    "load",   "number", "numbers",
    "level",      "only",      "quite",       "extremely", "sehr",   "zu",     "eier",
    "tres",       "trop",      "oeufs",       "muy",       "huevos", "muito",  "ovos"};

template <std::size_t N>
bool stands_in(std::string_view word, const std::array<std::string_view, N>& words) {
  return std::ranges::find(words, word) != words.end();
}

/// "+", "++", "(+)", "+/-"
bool is_pluses(std::string_view look) {
  constexpr std::string_view plus_minus = "\xC2\xB1";
  return look == plus_minus || (look.find('+') != std::string_view::npos &&
                                look.find_first_not_of("+-/() ") == std::string_view::npos);
}

} // namespace

bool says_some_eggs(std::string_view cell) {
  const std::string look = unaccented_look_of(normalised(cell));
  if (is_pluses(look))
    return true;
  const std::string words = plain_words(look);
  bool some = false;
  for (std::size_t start = 0; start < words.size();) {
    const std::size_t end = std::min(words.find(' ', start), words.size());
    const std::string_view word = std::string_view(words).substr(start, end - start);
    const bool says_so = stands_in(word, some_words);
    if (!says_so && !stands_in(word, words_beside))
      return false;
    some = some || says_so;
    start = end + 1;
  }
  return some;
}

std::optional<std::string> least_of(std::string_view cell) {
  constexpr std::string_view at_least = "\xE2\x89\xA5";
  std::string_view text = trimmed(cell);
  bool more = false;
  for (const std::string_view mark : {std::string_view(">"), at_least, std::string_view("=")})
    if (text.starts_with(mark)) {
      more = more || mark != "=";
      text = trimmed(text.substr(mark.size()));
    }
  const std::size_t end = std::min(text.find_first_not_of("0123456789.,' "), text.size());
  const std::string_view number = trimmed(text.substr(0, end));
  more = more || text.substr(end).starts_with('+');
  if (!more || number.find_first_of("0123456789") == std::string_view::npos)
    return std::nullopt;
  return std::string(number);
}

} // namespace eggfall
