#pragma once

namespace CLI {
class App;
}

namespace eggfall::cli {

/// Gives each option of the application and of its commands, now that all are there, what no value
/// may do without, before the option's own checks:
/// - an empty value is refused: it is an unset variable, and no option means anything by it;
/// - a number is decimal, read by parse_whole_number() or parse_number(): CLI11 would take 010 for
/// 8,
///   0x10 for 16, and inf and nan for numbers. A decimal comma is refused, since a list has commas
///   too;
/// - a text that is no name of a file is UTF-8 and normalised(), so that a group named by an option
/// is
///   the group of that name in a table.
void guard_values(CLI::App& app);

} // namespace eggfall::cli
