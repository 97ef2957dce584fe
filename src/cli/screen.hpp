#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall::cli {

/// Nobody reads standard output any more, as in `eggfall ... | head -1`: no error, but the end.
class ClosedPipe : public std::runtime_error {
public:
  ClosedPipe() : std::runtime_error("standard output: nobody reads it any more") {}
};

/// Opens those of standard input, output and error that whoever started the program closed, so that
/// no file takes their place; they can neither be read nor written.
void hold_standard_streams();

/// Writes to standard output.
/// @throws InputError if it cannot be written, ClosedPipe.
void show(std::string_view text);

/// Tells on standard error what was done otherwise than may be expected.
void tell_notes(const std::vector<std::string>& notes);

} // namespace eggfall::cli
