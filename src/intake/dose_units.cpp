#include "intake/dose_units.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "trial/label_dose.hpp"
#include "trial/possible_values.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace eggfall {
namespace {

/// A number, a word, or a mark of one character; blanks part them.
struct UnitToken {
  enum class Kind { number, word, mark };
  Kind kind;
  std::string text;
  bool close = false; ///< No blank stands before it.
  bool in_brackets = false;

  bool is_mark(std::string_view mark) const { return kind == Kind::mark && text == mark; }
};

bool is_digit_of_unit(char c) {
  return c >= '0' && c <= '9';
}

bool is_letter_of_unit(char c) {
  return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80U;
}

std::vector<UnitToken> unit_tokens(std::string_view cell) {
  const std::string text = look_of(cell);
  std::vector<UnitToken> tokens;
  std::size_t depth = 0;
  for (std::size_t i = 0; i < text.size();) {
    const char c = text[i];
    if (c == ' ' || c == '_' || c == '\'') {
      ++i;
      continue;
    }
    const std::size_t start = i;
    UnitToken token{UnitToken::Kind::mark, {}, start > 0 && text[start - 1] != ' ', depth > 0};
    if (is_digit_of_unit(c)) {
      token.kind = UnitToken::Kind::number;
      while (i < text.size() &&
             (is_digit_of_unit(text[i]) || ((text[i] == '.' || text[i] == ',') &&
                                            i + 1 < text.size() && is_digit_of_unit(text[i + 1]))))
        ++i;
    } else if (is_letter_of_unit(c)) {
      token.kind = UnitToken::Kind::word;
      while (i < text.size() && is_letter_of_unit(text[i]))
        ++i;
    } else {
      ++i;
      if (c == '(' || c == '[')
        ++depth;
      else if ((c == ')' || c == ']') && depth > 0)
        --depth;
    }
    token.text = text.substr(start, i - start);
    tokens.push_back(std::move(token));
  }
  return tokens;
}

bool is_among(std::string_view word, std::span<const std::string_view> list) {
  return std::ranges::find(list, word) != list.end();
}

bool is_volume(std::string_view word) {
  constexpr std::array<std::string_view, 10> words{
      "ml",          "mls",        "cc",          "ccs",       "millilitre",
      "millilitres", "milliliter", "milliliters", "mililitro", "mililitros"};
  return is_among(word, words);
}

/// Of a substance, in mg; nothing for another word.
std::optional<double> milligrams_in(std::string_view word) {
  constexpr std::array<std::string_view, 8> milligram{"mg",           "mgs",        "milligram",
                                                      "milligrams",   "milligramm", "milligramme",
                                                      "milligrammes", "miligramos"};
  // The sign of micro is a Greek letter once it is normalised.
  constexpr std::array<std::string_view, 7> microgram{"\xCE\xBC"
                                                      "g",
                                                      "\xC2\xB5"
                                                      "g",
                                                      "ug",
                                                      "mcg",
                                                      "microgram",
                                                      "micrograms",
                                                      "mikrogramm"};
  if (is_among(word, milligram))
    return 1.0;
  if (is_among(word, microgram))
    return 0.001;
  return std::nullopt;
}

bool stands_for_per(const UnitToken& token) {
  constexpr std::array<std::string_view, 11> words{"per", "for", "every", "each", "to",  "pro",
                                                   "par", "por", "je",    "cada", "pour"};
  return token.is_mark("/") || (token.kind == UnitToken::Kind::word && is_among(token.text, words));
}

/// A rate, and which tokens it takes up.
struct FoundRate {
  WrittenRate rate;
  std::size_t from = 0;
  std::size_t to = 0;
};

std::optional<double> number_at(const std::vector<UnitToken>& tokens, std::size_t place) {
  if (place >= tokens.size() || tokens[place].kind != UnitToken::Kind::number)
    return std::nullopt;
  return parse_number(tokens[place].text);
}

std::optional<FoundRate> rate_at(const std::vector<UnitToken>& tokens, std::size_t unit) {
  FoundRate found;
  if (const auto substance = milligrams_in(tokens[unit].text)) {
    found.rate.by_substance = true;
    found.rate.unit = *substance;
  } else if (!is_volume(tokens[unit].text)) {
    return std::nullopt;
  }
  std::size_t next = unit + 1;
  while (next < tokens.size() && stands_for_per(tokens[next]))
    ++next;
  double number = 1;
  // "mL 10 kg" may mean anything; "mL kg" is how a head without marks says mL per kg.
  if (const auto of_mass = next > unit + 1 ? number_at(tokens, next) : std::nullopt) {
    number = *of_mass;
    ++next;
  }
  const auto mass = next < tokens.size() ? kg_in(tokens[next].text) : std::nullopt;
  if (!mass || !weights_kg.hold(number * *mass))
    return std::nullopt;
  found.rate.kg = number * *mass;
  ++next;
  // "mL kg-1"
  if (next + 1 < tokens.size() && tokens[next].is_mark("-") && tokens[next + 1].text == "1")
    next += 2;
  found.from = unit;
  if (const auto amount = unit > 0 ? number_at(tokens, unit - 1) : std::nullopt) {
    found.rate.amount = amount;
    found.from = unit - 1;
  }
  found.to = next;
  for (std::size_t i = found.from; i < found.to; ++i) {
    const bool tight = tokens[i].is_mark("/") || (i > found.from && tokens[i - 1].is_mark("/"));
    found.rate.text += (i == found.from || tight ? "" : " ") + tokens[i].text;
  }
  return found;
}

/// Whether a cell may say this beside its rate: of what the weight is, and how it was given.
bool says_nothing_of_rate(const UnitToken& token) {
  constexpr std::array<std::string_view, 16> words{
      "bw",   "lw",         "bwt",      "lwt", "body",   "live", "weight", "bodyweight",
      "lwgt", "liveweight", "livemass", "wt",  "orally", "oral", "label",  "of"};
  constexpr std::array<std::string_view, 6> marks{"(", ")", ".", ",", ":", ";"};
  return token.kind == UnitToken::Kind::word   ? is_among(token.text, words)
         : token.kind == UnitToken::Kind::mark ? is_among(token.text, marks)
                                               : false;
}

std::optional<FoundRate> only_rate(const std::vector<UnitToken>& tokens) {
  std::optional<FoundRate> found;
  for (std::size_t i = 0; i < tokens.size(); ++i)
    if (auto rate = rate_at(tokens, i)) {
      if (found)
        return std::nullopt;
      found = std::move(rate);
    }
  if (!found)
    return std::nullopt;
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const bool of_the_rate = found->from <= i && i < found->to;
    if (!of_the_rate && tokens[i].kind == UnitToken::Kind::number)
      return std::nullopt;
  }
  return found;
}

/// Words for units that are none of ours, wherever in a head they stand.
bool is_another_unit(std::string_view word) {
  constexpr std::array<std::string_view, 62> words{"cwt",       "hundredweight",
                                                   "oz",        "ounce",
                                                   "ounces",    "t",
                                                   "tonne",     "tonnes",
                                                   "ton",       "tons",
                                                   "g",         "gm",
                                                   "gms",       "gram",
                                                   "grams",     "gramme",
                                                   "grammes",   "mg",
                                                   "mcg",       "l",
                                                   "litre",     "litres",
                                                   "liter",     "liters",
                                                   "dl",        "cl",
                                                   "ul",        "drop",
                                                   "drops",     "drp",
                                                   "tropfen",   "gotas",
                                                   "gouttes",   "tablet",
                                                   "tablets",   "tab",
                                                   "tabs",      "pill",
                                                   "pills",     "tabletten",
                                                   "comprimes", "bolus",
                                                   "boluses",   "boli",
                                                   "capsule",   "capsules",
                                                   "pump",      "pumps",
                                                   "squirts",   "syringe",
                                                   "syringes",  "notches",
                                                   "clicks",    "graduations",
                                                   "tsp",       "teaspoon",
                                                   "tbsp",      "iu",
                                                   "ppm",       "sachets",
                                                   "grain",     "arroba"};
  return is_among(word, words);
}

/// What brackets may say of weights and doses besides a unit.
bool is_no_unit(std::string_view word) {
  constexpr std::array<std::string_view, 16> words{
      "est",     "estd",  "live", "scales", "scale",  "tape",    "girth",   "measured",
      "weighed", "total", "oral", "orally", "actual", "nearest", "rounded", "only"};
  return is_among(word, words);
}

/// Units that are none of ours; and words in brackets that nothing explains, for these may be
/// units: "(est)" says nothing of one, "(hands)" may.
UnitOfHead unknown_unit(const std::vector<UnitToken>& tokens, const TableWords& words) {
  for (const UnitToken& token : tokens)
    if (token.kind == UnitToken::Kind::word && is_another_unit(token.text))
      return {std::nullopt, token.text, true};
  std::string brackets;
  for (const UnitToken& token : tokens)
    if (token.in_brackets && !is_no_unit(token.text) && !words.sums_up(token.text))
      brackets += (brackets.empty() ? "" : " ") + token.text;
  for (const HeadPiece& piece : words.pieces_of(brackets))
    if (piece.means == HeadWord::unit || (!piece.means && !piece.number))
      return {std::nullopt, piece.text, piece.means == HeadWord::unit};
  return {};
}

} // namespace

double WrittenRate::per_kg(double number) const {
  return rate_per_kg(number * unit, kg);
}

std::optional<double> kg_in(std::string_view unit) {
  constexpr double kg_per_lb = 0.45359237; // by definition: international pound of 1959
  constexpr double lb_per_stone = 14;      // by definition too, so that a stone is 6.35029318 kg
  constexpr std::array<std::string_view, 13> kilogram{
      "kg",         "kgs",   "kilo",        "kilos",  "kilogram",  "kilograms", "kilogramm",
      "kilogramme", "quilo", "kilogrammes", "quilos", "kilogramo", "kilogramos"};
  constexpr std::array<std::string_view, 4> pound{"lb", "lbs", "pound", "pounds"};
  constexpr std::array<std::string_view, 3> stone{"st", "stone", "stones"};
  if (is_among(unit, kilogram))
    return 1.0;
  if (is_among(unit, pound))
    return kg_per_lb;
  if (is_among(unit, stone))
    return lb_per_stone * kg_per_lb;
  return std::nullopt;
}

std::optional<WrittenRate> written_rate(std::string_view text) {
  auto found = only_rate(unit_tokens(text));
  return found ? std::optional(std::move(found->rate)) : std::nullopt;
}

std::optional<WrittenRate> rate_in_cell(std::string_view cell) {
  const std::vector<UnitToken> tokens = unit_tokens(cell);
  auto found = only_rate(tokens);
  if (!found || !found->rate.amount)
    return std::nullopt;
  for (std::size_t i = 0; i < tokens.size(); ++i)
    if ((i < found->from || i >= found->to) && !says_nothing_of_rate(tokens[i]))
      return std::nullopt;
  return std::move(found->rate);
}

std::optional<double> number_of_rate(std::string_view cell, const WrittenRate& rate) {
  if (const auto number = parse_number(cell))
    return number;
  const std::vector<UnitToken> tokens = unit_tokens(cell);
  if (tokens.size() != 2 || tokens[1].kind != UnitToken::Kind::word)
    return std::nullopt;
  const auto substance = milligrams_in(tokens[1].text);
  const bool same = rate.by_substance ? substance == rate.unit : is_volume(tokens[1].text);
  return same ? number_at(tokens, 0) : std::nullopt;
}

LabelHead label_head(std::string_view head, const TableWords& words) {
  const std::vector<HeadPiece> pieces = words.pieces_of(head);
  bool label = false;
  bool rate = written_rate(head).has_value();
  bool dose = false;
  bool another = false; // "Drug (mg/kg)" names a drug
  for (const HeadPiece& piece : pieces) {
    dose = dose || piece.means == HeadWord::dose;
    another = another ||
              (piece.means && piece.means != HeadWord::dose && piece.means != HeadWord::weight &&
               piece.means != HeadWord::unit && piece.means != HeadWord::filler &&
               piece.means != HeadWord::label_dose && piece.means != HeadWord::strength);
    if (piece.means != HeadWord::label_dose)
      continue;
    const std::string text = look_of(piece.text);
    if (text.find("kg") != std::string::npos) // "mg per kg" is a unit
      continue;
    const bool whose = !text.ends_with("rate") || text.find("label") != std::string::npos ||
                       text.find("recommend") != std::string::npos;
    label = label || whose;
    rate = rate || !whose;
  }
  if (label)
    return LabelHead::label;
  if (!rate || another)
    return LabelHead::none;
  return dose ? LabelHead::a_dose : LabelHead::rate;
}

bool has_unit_or_number(std::string_view head) {
  return std::ranges::any_of(unit_tokens(head), [](const UnitToken& token) {
    return token.kind == UnitToken::Kind::number || token.is_mark("/") || token.is_mark("%") ||
           token.text == "per" || is_volume(token.text) || kg_in(token.text) ||
           milligrams_in(token.text) || is_another_unit(token.text);
  });
}

UnitOfHead unit_of_weights(std::string_view head, const TableWords& words) {
  const std::vector<UnitToken> tokens = unit_tokens(head);
  UnitOfHead unit;
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const UnitToken& token = tokens[i];
    const bool before_number =
        i + 1 < tokens.size() && tokens[i + 1].kind == UnitToken::Kind::number;
    if (token.is_mark("#") && !before_number)
      return {std::nullopt, "#", true};
    const auto kg = token.kind == UnitToken::Kind::word ? kg_in(token.text) : std::nullopt;
    const bool ordinal =
        i > 0 && token.close && token.text == "st" && tokens[i - 1].kind == UnitToken::Kind::number;
    if (!kg || ordinal)
      continue;
    if (unit.size && *unit.size != *kg)
      return {std::nullopt, "two units", true};
    // "Stone paddock, weight" may name a place.
    const bool behind = token.in_brackets || i + 1 == tokens.size();
    if (token.text.starts_with("st") && !behind)
      return {std::nullopt, token.text, true};
    unit.size = kg;
  }
  return unit.size ? unit : unknown_unit(tokens, words);
}

UnitOfHead unit_of_doses(std::string_view head, const TableWords& words) {
  const std::vector<UnitToken> tokens = unit_tokens(head);
  for (const UnitToken& token : tokens)
    if (kg_in(token.text) || token.is_mark("%"))
      return {std::nullopt, token.text, true};
  for (const UnitToken& token : tokens)
    if (is_volume(token.text))
      return {1.0, {}, false};
  return unknown_unit(tokens, words);
}

UnitOfHead unit_of_strengths(std::string_view head, const TableWords& words) {
  const std::vector<UnitToken> tokens = unit_tokens(head);
  for (std::size_t i = 0; i + 1 < tokens.size(); ++i) {
    std::size_t next = i + 1;
    while (next + 1 < tokens.size() && stands_for_per(tokens[next]))
      ++next;
    const std::string& volume = tokens[next].text;
    const bool litre = volume == "l" || volume == "litre" || volume == "liter";
    const std::string& mass = tokens[i].text;
    if ((milligrams_in(mass) == 1.0 && is_volume(volume)) || (mass == "g" && litre))
      return {1.0, {}, false};
  }
  for (const UnitToken& token : tokens)
    if (token.is_mark("%") || kg_in(token.text) || is_volume(token.text))
      return {std::nullopt, token.text, true};
  return unknown_unit(tokens, words);
}

std::optional<double> stones_and_pounds(std::string_view cell) {
  const std::vector<UnitToken> tokens = unit_tokens(cell);
  const auto stones = number_at(tokens, 0);
  const auto pounds = number_at(tokens, 2);
  if (tokens.size() != 4 || !stones || !pounds || !tokens[1].text.starts_with("st") ||
      !tokens[3].text.starts_with("lb"))
    return std::nullopt;
  const auto stone = kg_in(tokens[1].text);
  const auto pound = kg_in(tokens[3].text);
  return stone && pound ? std::optional(*stones * *stone + *pounds * *pound) : std::nullopt;
}

std::optional<double> strength_in_cell(std::string_view cell) {
  const std::vector<UnitToken> tokens = unit_tokens(cell);
  const auto number = number_at(tokens, 0);
  if (!number || tokens.size() != 4 || !stands_for_per(tokens[2]))
    return std::nullopt;
  const bool mg_by_ml = milligrams_in(tokens[1].text) == 1.0 && is_volume(tokens[3].text);
  const bool grams = tokens[1].text == "g" && (tokens[3].text == "l" || tokens[3].text == "litre");
  return mg_by_ml || grams ? number : std::nullopt;
}

} // namespace eggfall
