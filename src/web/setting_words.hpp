#pragma once

#include <string>
#include <string_view>

namespace eggfall::web {

/// A message of the library, which names options of a command line, as a page says it: what is
/// "--column animal=THEIRS" there is "the setting column animal=THEIRS" here, and the command that
/// works out a factor is the bench calculator.
std::string in_setting_words(std::string_view message);

} // namespace eggfall::web
