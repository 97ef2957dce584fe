#pragma once

#include "eggfall/judgement/cut_offs.hpp"
#include "formats/json_values.hpp"

namespace eggfall {

/// Which groups a row is for.
Json scope_json(const Scope& scope);

void add_citation(Json& json, const Citation& citation);

/// A criterion with its rule and cut-offs, but not its minima.
Json criteria_json(const Criteria& criteria);

/// Reads back what criteria_json() wrote.
/// @throws the exceptions that read_json() turns into a message with the place.
Criteria read_criteria(const Json& json);

/// A window of days to the second sample.
Json window_json(const SamplingWindow& window);

/// What window_json() wrote. @throws as read_json() turns into its message.
SamplingWindow read_window(const Json& json);

} // namespace eggfall
