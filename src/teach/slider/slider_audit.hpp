#pragma once

#include "eggfall/simulation/audit.hpp"

namespace eggfall {

/// The audit of the built-in grid "lesson", compiled in (src/data/lesson_audit.json, made by
/// `cmake --build build/release --target lesson-audit`): 95% intervals by the formula of 1992 and
/// by the guarded posterior, judged by WAAVP 1992 and WAAVP 2023, clinical.
AuditResult slider_audit();

} // namespace eggfall
