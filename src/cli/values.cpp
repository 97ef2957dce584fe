#include "values.hpp"

#include "eggfall/audit_grid.hpp"
#include "eggfall/cut_offs.hpp"
#include "eggfall/interval.hpp"
#include "eggfall/read_scenario.hpp"
#include "eggfall/survey.hpp"
#include "eggfall/trial.hpp"

#include <fmt/format.h>

#include <initializer_list>

namespace eggfall::cli {
namespace {

template <typename Enum> std::vector<std::string> names_of(std::initializer_list<Enum> values) {
  std::vector<std::string> names;
  for (const Enum value : values)
    names.emplace_back(to_string(value));
  return names;
}

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
    return std::vector<std::string>{"sheep", "goats", "cattle", "horses", "pigs"};
  });
}

Suggested drug_classes() {
  return Suggested([] {
    using enum DrugClass;
    return names_of({bz, lv, ml, ad, si, pyr});
  });
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
  return Suggested([] {
    using enum Method;
    return names_of({guarded_posterior, paired_posterior, two_group_posterior, controlled_posterior,
                     bootstrap_percentile, bootstrap_bca, log_ratio_1992, paired_log_ratio,
                     pooled_count_jeffreys, pooled_count_exact});
  });
}

Suggested survey_fields() {
  return Suggested([] {
    using enum SurveyField;
    return names_of({drug_class, host, worm, region, year});
  });
}

} // namespace eggfall::cli
