#pragma once

#include "formats/text_document.hpp"

#include <string>

namespace eggfall {

/// The document as a page to print: the same words as word_document(), a part on a sheet of its
/// own.
std::string document_page(const TextDocument& document);

} // namespace eggfall
