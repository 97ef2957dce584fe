#pragma once

#include "cli/commands.hpp"

#include <array>
#include <memory>
#include <string_view>

namespace eggfall::cli {

/// What the program is for, in a sentence.
inline constexpr std::string_view purpose =
    "How far egg counts fell after a drench, how sure that is, and what it means.";

struct ExitCode {
  int number;
  std::string_view meaning;
};

inline constexpr ExitCode done{0, "done"};
inline constexpr ExitCode calculation_failed{1, "a calculation failed"};
inline constexpr ExitCode bad_input{2, "bad input, options or place to write"};
/// As a shell tells it of a program that SIGPIPE ended.
inline constexpr ExitCode nobody_reads{141, "nobody reads standard output any more"};
/// As a shell tells it of a program that a signal ended.
inline constexpr ExitCode ended{130, "ended by Ctrl-C (129, 143: by another signal)"};
inline constexpr std::array exit_codes{done, calculation_failed, bad_input, ended, nobody_reads};

/// The whole command line. Parsing sets `action`, which must live as long, to what was asked for.
std::unique_ptr<CLI::App> command_line(Action& action);

/// @throws InputError where the first word of the command line is neither a command nor an option;
/// CLI11 would say no more than that a command is needed.
void refuse_unknown_command(const CLI::App& app, std::string_view word);

} // namespace eggfall::cli
