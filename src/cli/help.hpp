#pragma once

#include "eggfall/base/error.hpp"

#include <CLI/CLI.hpp>

#include <cstdint>
#include <string>

namespace eggfall::cli {

/// What is said of an option: its description, default, and whether it is needed.
std::string option_text(const CLI::Option& option);

/// What stands for the value of an option: FILE, FOLDER, N for a number, X for another; empty for
/// one without a value.
std::string value_name(const CLI::Option& option);

/// Help texts that fit a terminal of 80 columns.
class HelpFormatter : public CLI::Formatter {
public:
  std::string make_option(const CLI::Option* option, bool is_positional) const override;
  std::string make_subcommand(const CLI::App* command) const override;
};

/// A whole number in digits alone, from `least` to `most`; CLI11 2.1 would wrap -1 round and cut
/// off what is too large.
CLI::Validator whole_number(std::uint64_t most = 999'999'999'999'999'999U, std::uint64_t least = 0);

/// A number within the range.
CLI::Validator within(const ValueRange& range);

/// "50 to 99.9"
std::string in_words(const ValueRange& range);

} // namespace eggfall::cli
