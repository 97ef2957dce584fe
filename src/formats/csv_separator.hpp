#pragma once

#include <string_view>

namespace eggfall {

/// The separator that a first line such as "sep=;" names; 0 if the line is none.
char named_separator(std::string_view first_line);

/// What parts the cells of a text whose header need not be its first line: tab, semicolon or comma.
///
/// Of a table, most rows hold the same number of separators, and titles above it and notes in its
/// cells do not. So of the first 100 rows that are not blank, for each candidate those that hold it
/// are counted by how often they do (outside quotes): the largest number of rows that agree is what
/// speaks for it, and the candidate with most wins; if several have, tab before semicolon before
/// comma. In a row that holds tabs or semicolons too, commas that all stand between two digits may
/// be decimal ("401;12,5"), and do not speak for the comma.
///
/// If none is held by any row, the comma: each row has one cell.
char separator_of(std::string_view text);

} // namespace eggfall
