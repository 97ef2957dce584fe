#pragma once

#include "intake/raw_animals.hpp"

#include <vector>

namespace eggfall {

/// A fall compares the same eggs before and after. So a table is asked about whose heads say
/// strongyles at one time ("Strongyle EPG after") and eggs of no kind at the other ("EPG before"):
/// all eggs before beside those of strongyles alone after would show a fall that never was. What
/// its owner says of a column goes before.
/// @throws OpenQuestion for that; InputError where eggs of one kind are counted ("Coccidia
///   before"), and none that a drench is judged by.
void ask_for_kinds_at_odds(const std::vector<RawAnimal>& animals, const Layout& layout);

/// One sample is one row here, and the eggs told apart in it have columns of their own. Rows of one
/// sample that differ in the worm are neither repeats nor visits, and whether one of them holds
/// all its eggs is not to be guessed.
/// @throws InputError for two such rows.
void refuse_rows_by_worm(const SheetReading& reading);

} // namespace eggfall
