#pragma once

#include "eggfall/trial/trial.hpp"
#include "trial/field_words.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Substances that animals are drenched with, by their generic names, and the words for their
/// classes; written down from memory and to be checked against a text of pharmacology. Drenches by
/// the colour of their bottle are left out on purpose: colours differ by country.
namespace eggfall {

/// What a substance acts against.
enum class SubstanceKind {
  broad,             ///< Roundworms of many kinds: it belongs to a DrugClass.
  narrow,            ///< Some roundworms alone: a test of it is a test of these.
  not_for_roundworms ///< Fluke or tapeworms: eggs of roundworms say nothing of it.
};

struct Substance {
  std::string_view name; ///< Generic, in lower case.
  SubstanceKind kind = SubstanceKind::broad;
  std::optional<DrugClass> drug_class; ///< Of a broad one, and of no other.
  std::string_view group;              ///< Of its chemistry, plural: "salicylanilides".
  /// What a test of it can say, in whole sentences; empty for a broad one.
  std::string_view remark;
  WordSource source = WordSource::memory;
};

/// All that are known here, by class.
const std::vector<Substance>& known_substances();

/// The substances whose names stand in a text as whole words, each once, in the text's order:
/// "Ivermectin 0.2 mg/kg oral" has one. None is guessed from a part of a word.
std::vector<Substance> substances_in(std::string_view text);

/// The substance whose class a text tells: the only one in it that is for roundworms, if it is of a
/// class. What is for fluke or tapeworms alone may stand beside it: "ivermectin + praziquantel" is
/// an ivermectin to roundworms. Nothing if the text names none, or several.
std::optional<Substance> substance_telling_class(std::string_view text);

/// "macrocyclic lactones (avermectins, moxidectin)", for a sentence.
std::string drug_class_in_words(DrugClass drug_class);

/// The class that one substance or the words for a class name, whatever their case: "ivermectin",
/// "Benzimidazoles". Nothing for anything else; abbreviations are parse_drug_class()'s.
std::optional<DrugClass> drug_class_called(std::string_view words);

/// nearest_words() of abbreviations, substances and words for classes.
std::vector<std::string_view> nearest_drug_classes(std::string_view word);

/// What a message says was expected in place of a class that is none: "BZ, LV, ML, AD, SI or PYR",
/// with a question behind it if the word is near to a known one, or what to do with a substance of
/// none of these classes.
std::string expected_drug_class(std::string_view found);

/// The same where several may be joined by +.
std::string expected_drug_classes(std::string_view found);

} // namespace eggfall
