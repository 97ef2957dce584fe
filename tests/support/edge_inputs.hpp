#pragma once

#include <functional>
#include <string>
#include <vector>

namespace support {

/// Bytes that hold nothing to read, as files do that were cut short, saved as something else, or
/// never filled in.
struct EdgeInput {
  std::string name;
  std::string bytes;
};

/// Empty, a byte-order mark alone, NUL bytes, other encodings, one column, a header alone, a huge
/// cell, a quote or a bracket never closed, half a workbook and the like. No reader can make
/// anything of them.
const std::vector<EdgeInput>& edge_inputs();

/// Checks that `read` refuses each of them by an InputError, in UTF-8, that names `source` and says
/// what was found or expected.
void check_edge_inputs_refused(const std::string& source,
                               const std::function<void(const std::string&)>& read);

/// A good text as other programs save it: with a byte-order mark, with CRLF, without the end of its
/// last line, with blank lines behind it.
std::vector<EdgeInput> edge_forms_of(const std::string& text);

/// Checks that `shown` (what was read, as a text) is the same of each of them.
void check_edge_forms_alike(const std::string& text,
                            const std::function<std::string(const std::string&)>& shown);

} // namespace support
