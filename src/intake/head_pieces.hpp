#pragma once

#include "base/enum_names.hpp"
#include "intake/phrase_book.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// What the head of a column says, word by word, in tables as people keep them.
namespace eggfall {

enum class HeadWord {
  animal,
  group,
  drench,
  role,
  drug_class,
  host,
  worm,
  trial,
  region,
  year,
  farm,
  pool,   ///< How many animals are in it.
  factor, ///< EPG per egg seen.
  weight,
  dose,
  strength,   ///< Substance by volume.
  label_dose, ///< The rate on the label, by volume or by substance.
  count,      ///< Of eggs; seen or per gram is not said.
  eggs,       ///< Seen.
  epg,
  before,
  after,
  first,   ///< Of samplings, or of counts of one sample.
  second,  ///< The same.
  treated, ///< The act, for its date; alone it may head a column of yes and no as well.
  date,
  day,
  week,
  hour,     ///< Since treatment, as a number of them.
  months,   ///< The same; a month by name is none.
  occasion, ///< Of a row a sample: whether it is of before or after.
  unit,     ///< kg, mL and the like, which say nothing of a column by themselves.
  filler,   ///< "of", "the", "sample": says nothing at all.
  ignored,  ///< A thing that tables hold and nothing here needs.
};

/// As src/data/table_words.toml has them.
inline constexpr Names<HeadWord, 34> head_word_names{{
    {HeadWord::animal, "animal"},
    {HeadWord::group, "group"},
    {HeadWord::drench, "drench"},
    {HeadWord::role, "role"},
    {HeadWord::drug_class, "class"},
    {HeadWord::host, "host"},
    {HeadWord::worm, "worm"},
    {HeadWord::trial, "trial"},
    {HeadWord::region, "region"},
    {HeadWord::year, "year"},
    {HeadWord::farm, "farm"},
    {HeadWord::pool, "pool"},
    {HeadWord::factor, "factor"},
    {HeadWord::weight, "weight"},
    {HeadWord::dose, "dose"},
    {HeadWord::strength, "strength"},
    {HeadWord::label_dose, "label-dose"},
    {HeadWord::count, "count"},
    {HeadWord::eggs, "eggs"},
    {HeadWord::epg, "epg"},
    {HeadWord::before, "before"},
    {HeadWord::after, "after"},
    {HeadWord::first, "first"},
    {HeadWord::second, "second"},
    {HeadWord::treated, "treated"},
    {HeadWord::date, "date"},
    {HeadWord::day, "day"},
    {HeadWord::week, "week"},
    {HeadWord::hour, "hour"},
    {HeadWord::months, "months"},
    {HeadWord::occasion, "occasion"},
    {HeadWord::unit, "unit"},
    {HeadWord::filler, "filler"},
    {HeadWord::ignored, "ignored"},
}};

std::string_view to_string(HeadWord word);

/// A piece of a header cell: a known phrase, a number, or a word that is not known.
struct HeadPiece {
  std::optional<HeadWord> means;
  std::string text;          ///< As it stands in the cell, marks within a phrase too.
  std::optional<int> number; ///< Of digits or an ordinal ("3rd"), of at most 9 digits.
  std::size_t start = 0;     ///< Of its first byte in the cell, normalised().
  /// A hyphen stands before the number, and may part them or be a minus: "D-7". Where a blank
  /// before it shows a minus ("day -7"), the number is below 0 and this is false.
  bool hyphen_before = false;
  bool plus_before = false; ///< "+3"

  std::size_t end() const { return start + text.size(); }
};

/// The pieces of a header cell, in order. Words end at blanks and marks, between letters and digits
/// (an ordinal is one word), and at a capital after a small letter where a word beside it is known
/// ("eggsBefore", but "McRae"). Of known phrases the longest from the left wins; "E.P.G." is EPG.
/// A word that is none, but two or three of them written together, is taken apart ("preepg"). One
/// letter means a day or a week beside a number alone ("D14"), since groups are called so too, and
/// hours behind one alone ("72 h").
std::vector<HeadPiece> head_pieces(std::string_view cell, const PhraseBook<HeadWord>& book);

/// Whether any of the pieces has this meaning.
bool have_word(const std::vector<HeadPiece>& pieces, HeadWord word);

} // namespace eggfall
