#include "trial/drug_words.hpp"

#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>

namespace eggfall {
namespace {

constexpr Names<DrugClass, all_drug_classes.size()> drug_class_words{{
    {DrugClass::bz, "benzimidazoles"},
    {DrugClass::lv, "levamisole"},
    {DrugClass::ml, "macrocyclic lactones (avermectins, moxidectin)"},
    {DrugClass::ad, "amino-acetonitrile derivatives (monepantel)"},
    {DrugClass::si, "spiroindoles (derquantel)"},
    {DrugClass::pyr, "pyrantel and kin"},
}};

/// What else classes are called, as plain_words() has it.
constexpr Names<DrugClass, all_drug_classes.size()> drug_class_names_besides{{
    {DrugClass::bz, "benzimidazole|probenzimidazole|probenzimidazoles|pro benzimidazole|"
                    "pro benzimidazoles"},
    {DrugClass::lv, "imidazothiazole|imidazothiazoles"},
    {DrugClass::ml, "macrocyclic lactone|macrocyclic lactones|avermectin|avermectins|milbemycin|"
                    "milbemycins"},
    {DrugClass::ad, "amino acetonitrile derivative|amino acetonitrile derivatives|"
                    "aminoacetonitrile derivative|aminoacetonitrile derivatives|aad|aads"},
    {DrugClass::si, "spiroindole|spiroindoles"},
    {DrugClass::pyr, "tetrahydropyrimidine|tetrahydropyrimidines"},
}};

/// Substances of one class, by name.
struct DrugClassEntry {
  DrugClass drug_class;
  std::string_view group;
  std::string_view names;
};

constexpr std::array drug_class_entries{
    DrugClassEntry{DrugClass::bz, "benzimidazoles",
                   "albendazole|ricobendazole|fenbendazole|oxfendazole|oxibendazole|mebendazole"},
    DrugClassEntry{DrugClass::bz, "pro-benzimidazoles", "febantel|netobimin"},
    DrugClassEntry{DrugClass::lv, "imidazothiazoles", "levamisole"},
    DrugClassEntry{DrugClass::pyr, "tetrahydropyrimidines", "pyrantel|morantel"},
    DrugClassEntry{DrugClass::ml, "avermectins", "ivermectin|abamectin|doramectin|eprinomectin"},
    DrugClassEntry{DrugClass::ml, "milbemycins", "moxidectin"},
    DrugClassEntry{DrugClass::ad, "amino-acetonitrile derivatives", "monepantel"},
    DrugClassEntry{DrugClass::si, "spiroindoles", "derquantel"},
};

constexpr std::string_view of_blood_feeders =
    "It acts against worms that feed on blood, such as Haemonchus, and fluke alone. So its test is "
    "a test of Haemonchus, and needs larvae cultured before and after.";

constexpr std::array other_substances{
    Substance{"closantel",
              SubstanceKind::narrow,
              {},
              "salicylanilides",
              "It acts against worms that feed on blood, such as Haemonchus, and fluke alone, and "
              "persists for weeks. So its test is a test of Haemonchus, and needs larvae cultured "
              "before and after."},
    Substance{"rafoxanide", SubstanceKind::narrow, {}, "salicylanilides", of_blood_feeders},
    Substance{"oxyclozanide", SubstanceKind::narrow, {}, "salicylanilides", of_blood_feeders},
    Substance{
        "nitroxynil", SubstanceKind::narrow, {}, "kin of the salicylanilides", of_blood_feeders},
    Substance{"naphthalophos",
              SubstanceKind::narrow,
              {},
              "organophosphates",
              "It acts against some roundworms, Haemonchus above all. So its test is a test of "
              "Haemonchus, and needs larvae cultured before and after."},
    Substance{"triclabendazole",
              SubstanceKind::not_for_roundworms,
              {},
              "drenches for liver fluke",
              "It acts against liver fluke and not against roundworms, so eggs of roundworms say "
              "nothing of it."},
    Substance{"praziquantel",
              SubstanceKind::not_for_roundworms,
              {},
              "drenches for tapeworms",
              "It acts against tapeworms and not against roundworms, so eggs of roundworms say "
              "nothing of it."},
};

const Substance* substance_called(std::string_view word) {
  const auto& all = known_substances();
  const auto found = std::ranges::find(all, word, &Substance::name);
  return found == all.end() ? nullptr : &*found;
}

/// The first part of a mixture that is no class; empty if there is none.
std::string_view part_without_class(std::string_view mixture) {
  while (true) {
    const std::size_t plus = std::min(mixture.find('+'), mixture.size());
    const std::string_view part = trimmed(mixture.substr(0, plus));
    if (!parse_drug_class(part))
      return part;
    if (plus == mixture.size())
      return {};
    mixture.remove_prefix(plus + 1);
  }
}

/// What to do about a word that is no class; empty if nothing can be said of it.
std::string way_out(std::string_view word) {
  const Substance* const substance = substance_called(plain_words(word));
  if (substance == nullptr)
    return is_meant(nearest_drug_classes(word));
  return fmt::format(" ({} is of none of these classes: give no class, and name it as the drench)",
                     substance->name);
}

constexpr std::string_view abbreviations = "BZ, LV, ML, AD, SI or PYR";

} // namespace

const std::vector<Substance>& known_substances() {
  static const std::vector<Substance> all = [] {
    std::vector<Substance> substances;
    for (const DrugClassEntry& entry : drug_class_entries)
      for (const std::string_view name : listed_words(entry.names))
        substances.push_back({name, SubstanceKind::broad, entry.drug_class, entry.group, ""});
    substances.insert(substances.end(), other_substances.begin(), other_substances.end());
    return substances;
  }();
  return all;
}

std::vector<Substance> substances_in(std::string_view text) {
  const std::string words = plain_words(text);
  std::vector<Substance> found;
  for (std::size_t from = 0; from < words.size();) {
    const std::size_t end = std::min(words.find(' ', from), words.size());
    const std::string_view word = std::string_view(words).substr(from, end - from);
    const Substance* const substance = substance_called(word);
    if (substance != nullptr && std::ranges::find(found, word, &Substance::name) == found.end())
      found.push_back(*substance);
    from = end + 1;
  }
  return found;
}

std::optional<Substance> substance_telling_class(std::string_view text) {
  std::vector<Substance> named = substances_in(text);
  std::erase_if(
      named, [](const Substance& each) { return each.kind == SubstanceKind::not_for_roundworms; });
  return named.size() == 1 && named.front().drug_class ? std::optional(named.front())
                                                       : std::nullopt;
}

std::string drug_class_in_words(DrugClass drug_class) {
  return std::string(name_of(drug_class_words, drug_class, "a drug class"));
}

std::optional<DrugClass> drug_class_called(std::string_view words) {
  const std::string plain = plain_words(words);
  if (const Substance* const substance = substance_called(plain))
    return substance->drug_class;
  for (const auto& [drug_class, phrase] : drug_class_words)
    if (plain_words(phrase) == plain)
      return drug_class;
  for (const auto& [drug_class, names] : drug_class_names_besides)
    if (const auto listed = listed_words(names); std::ranges::find(listed, plain) != listed.end())
      return drug_class;
  return std::nullopt;
}

std::vector<std::string_view> nearest_drug_classes(std::string_view word) {
  std::vector<std::string_view> words;
  for (const DrugClass drug_class : all_drug_classes)
    words.push_back(to_string(drug_class));
  for (const Substance& substance : known_substances())
    if (substance.drug_class)
      words.push_back(substance.name);
  for (const auto& [drug_class, phrase] : drug_class_words)
    words.push_back(phrase);
  for (const auto& [drug_class, names] : drug_class_names_besides)
    for (const std::string_view name : listed_words(names))
      words.push_back(name);
  return nearest_words(word, words);
}

std::string expected_drug_class(std::string_view found) {
  return fmt::format("{}{}", abbreviations, way_out(found));
}

std::string expected_drug_classes(std::string_view found) {
  return fmt::format("{}, or several joined by +{}", abbreviations,
                     way_out(part_without_class(found)));
}

} // namespace eggfall
