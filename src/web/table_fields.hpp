#pragma once

#include "web/fields.hpp"
#include "web/reply.hpp"

#include "eggfall/judgement/cut_offs.hpp"
#include "intake/table_files.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

// What requests about tables have in common (docs/browser.md).
namespace eggfall::web {

/// The file that came with the request and whose place the field "file" tells.
/// @throws InputError for a place where there is none.
const std::string& file_of(Fields& fields, const std::vector<std::string>& files);

/// The field "tables": of each its name and its file.
std::vector<TableFile> tables_of(Fields& fields, const std::vector<std::string>& files);

/// What a page says of its tables: the factors, "host", "control", "sheet", "settings" and
/// "layout", which speaks where the others are silent.
TableAnswers answers_of(Fields& fields);

/// The page's own ("cutOffs"), and after them the published ones.
CutOffs cut_offs_of(Fields& fields);

/// Lines told to the user, with the names that a page has for settings.
Json told_lines(const std::vector<Wording>& told);

/// Says that "wanted" names no file that the request gives.
[[noreturn]] void refuse_wanted(const std::string& name);

/// The field "wanted": names of files to make; empty: all.
/// @throws InputError for a name that is not among those of `outputs`.
template <typename Outputs>
std::vector<std::string> wanted_of(Fields& fields, const Outputs& outputs) {
  std::vector<std::string> wanted = fields.texts("wanted");
  for (const std::string& name : wanted)
    if (std::none_of(outputs.begin(), outputs.end(),
                     [&](const auto& output) { return output.name == name; }))
      refuse_wanted(name);
  return wanted;
}

inline bool is_wanted(std::string_view name, const std::vector<std::string>& wanted) {
  return wanted.empty() || std::find(wanted.begin(), wanted.end(), name) != wanted.end();
}

} // namespace eggfall::web
