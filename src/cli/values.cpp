#include "cli/values.hpp"

#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/statistics/interval.hpp"
#include "eggfall/survey/survey.hpp"
#include "eggfall/trial/trial.hpp"
#include "simulation/audit_grid.hpp"
#include "simulation/read_scenario.hpp"
#include "trial/field_words.hpp"

#include <fmt/format.h>

namespace eggfall::cli {
namespace {

template <typename Items, typename Name>
std::vector<std::string> names_of(const Items& items, Name name) {
  std::vector<std::string> names;
  for (const auto& item : items)
    names.emplace_back(item.*name);
  return names;
}

} // namespace

// Written as CLI11 writes the values of IsMember; asked for only when it is shown.
Suggested::Suggested(const std::function<std::vector<std::string>()>& values) {
  desc_function_ = [values] { return fmt::format("{{{}}}", fmt::join(values(), ",")); };
}

Suggested hosts() {
  return Suggested([] {
    const std::vector<std::string_view> names = hosts_with_cut_offs();
    return std::vector<std::string>(names.begin(), names.end());
  });
}

std::string hosts_to_choose() {
  return fmt::format("{} or another", fmt::join(hosts_with_cut_offs(), ", "));
}

Suggested drug_classes() {
  return Suggested([] { return names_of(all_drug_classes); });
}

Suggested criteria_names() {
  return Suggested([] { return names_of(published_cut_offs().criteria, &Criteria::name); });
}

Suggested lesson_names() {
  return Suggested([] { return names_of(built_in_scenarios(), &Scenario::name); });
}

Suggested grid_names() {
  return Suggested([] { return names_of(built_in_grids(), &BuiltInGrid::name); });
}

Suggested method_names() {
  return Suggested([] { return names_of(all_methods); });
}

Suggested survey_fields() {
  return Suggested([] { return names_of(all_survey_fields); });
}

} // namespace eggfall::cli
