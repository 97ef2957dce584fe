#pragma once

#include "eggfall/base/error.hpp"

namespace eggfall::web {

/// What requests of a page call settings (docs/browser.md): "the setting unitsConfirmed".
extern const SettingNames request_names;

} // namespace eggfall::web
