#pragma once

#include "formats/text_document.hpp"

#include <string>

namespace eggfall {

/// A document that word processors open and change (.docx): a WordprocessingML document as ECMA-376
/// Part 1 describes it, transitional, for A4, in English. Titles and headings have styles of their
/// own, tables a row of heads that is repeated on every page; entries are lines that give way as
/// they are written on. Its bytes hang on the document alone: it tells no time and no author. Texts
/// are kept from steering it, as without_controls() does.
/// @throws CalculationError if there is no memory for it.
std::string word_document(const TextDocument& document);

} // namespace eggfall
