#pragma once

#include "intake/sheet_reading.hpp"

namespace eggfall {

/// "OPG" is eggs per gram in French, Portuguese and some Spanish tables, and oocysts per gram of
/// coccidia in English ones, which no cut-off is for. So it is taken for eggs only where another
/// word of the table is of one of these languages, and nothing in it speaks of coccidia; what its
/// owner says of the column goes before.
/// @throws OpenQuestion otherwise.
void ask_for_oocysts(const SheetReading& reading, const Layout& layout);

} // namespace eggfall
