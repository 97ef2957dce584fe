#pragma once

#include "intake/layout.hpp"
#include "intake/open_question.hpp"
#include "intake/understand.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A file of counts, and the name that messages give it.
struct TableFile {
  std::string name;
  std::string bytes;
};

/// What the owner of files of counts says of them.
struct TableAnswers {
  Layout layout;
  std::string sheets; ///< Wanted of workbooks, parted by commas; empty: whatever there is.
};

/// Takes an answer to an open question. Keys are those of a layout's file, "column" and "cell" for
/// one line of its tables, and "sheet".
/// @throws InputError for any other key, or a value that is none for it.
void take(TableAnswers& answers, const LayoutSetting& setting);

/// How counts tables of the name are read: a trial that no row names is called as the file is,
/// without its folder and its ending.
/// @throws InputError for an impossible factor.
ReadOptions read_options(const Layout& layout, std::string_view name);

/// Reads files of counts in whatever form they are kept, by understand_tables().
/// @throws InputError and OpenQuestion as it does.
UnderstoodTables understand_files(const std::vector<TableFile>& files, const TableAnswers& answers,
                                  NeededCounts needed = NeededCounts::before_and_after);

} // namespace eggfall
