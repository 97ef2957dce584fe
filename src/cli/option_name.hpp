#pragma once

#include "eggfall/base/error.hpp"

namespace eggfall::cli {

/// What the command line calls settings: by their options, with the value as a shell takes it:
/// --cell "n d=none-seen".
extern const SettingNames option_names;

} // namespace eggfall::cli
