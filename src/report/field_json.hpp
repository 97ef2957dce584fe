#pragma once

#include "eggfall/judgement/day_check.hpp"
#include "eggfall/judgement/dose_check.hpp"
#include "eggfall/judgement/missing_after.hpp"

#include <nlohmann/json.hpp>

#include <optional>

namespace eggfall {

/// null if the table gave neither weight nor dose.
nlohmann::ordered_json to_json(const DoseCheck& doses);
nlohmann::ordered_json to_json(const DayCheck& days);
nlohmann::ordered_json to_json(const std::optional<MissingAfter>& missing);

/// Adds each animal's dose and days to its entry in `per_animal`, which is in the group's order.
void add_field_checks(nlohmann::ordered_json& per_animal, const DoseCheck& doses,
                      const DayCheck& days);

} // namespace eggfall
