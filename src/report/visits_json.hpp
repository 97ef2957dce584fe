#pragma once

#include "eggfall/judgement/trial_analysis.hpp"

#include <nlohmann/json.hpp>

#include <optional>
#include <vector>

namespace eggfall {

/// One entry for each visit; [] without visits.
nlohmann::ordered_json visits_json(const std::vector<VisitFall>& visits);

/// null for hosts without one.
nlohmann::ordered_json reappearance_json(const std::optional<EggReappearance>& reappearance);

} // namespace eggfall
