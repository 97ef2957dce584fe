#pragma once

#include <string>
#include <string_view>

/// What a name in a table says by its words. The words are common practice.
namespace eggfall {

/// Whether a cell says that its row is a sum, a mean or their kin: "Total", "Mean:".
bool is_sum_word(std::string_view cell);

/// Whether a group's name says that its animals were not treated: it has a word such as control,
/// untreated or keepers in it, or "no drench" and the like. Such a group is asked about unless its
/// role is given, since its animals, taken for treated, would prove any drench dead.
bool sounds_untreated(std::string_view name);

/// The words of a name for looking them up: ASCII letters in lower case, no apostrophes, and every
/// other mark a blank: "H. contortus" and "h.contortus" are "h contortus".
std::string plain_words(std::string_view name);

/// Whether two names (canonical_worm()) may be of one worm: one begins as the other, such as
/// "haemonchus" and "haemonchus x", or is cut short, such as "trich" and "trichuris"; or both are
/// names that the brown stomach worm of sheep goes by, old and new.
bool may_be_one_worm(std::string_view a, std::string_view b);

} // namespace eggfall
