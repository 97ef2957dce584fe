#include "plan/plan_words.hpp"

#include "base/number_words.hpp"
#include "base/text.hpp"

#include <fmt/format.h>

namespace eggfall {

std::string how_many_of_100(double share) {
  const double count = 100 * share;
  if (count <= 0.5) // {:.0f} would make none of it
    return "fewer than 1";
  return count >= 99.5 ? "more than 99" : fmt::format("{:.0f}", count);
}

std::string of_100(const Share& share) {
  return how_many_of_100(share.value) + " of 100";
}

std::string efficacy_text(double efficacy) {
  return fmt::format("{:g}%", 100 * efficacy);
}

std::string both_calls(const PlanOutcome& outcome, const AuditCriterion& criterion,
                       std::size_t index) {
  return fmt::format("{:.0f}/{:.0f}",
                     100 * chance(outcome, criterion, index, VerdictClass::susceptible).value,
                     100 * called_resistant(outcome, criterion, index).value);
}

void add_count_minima(std::vector<std::string>& parts, const Minimum& minimum) {
  if (minimum.mean_epg)
    parts.push_back(fmt::format("a mean of {:g} EPG", *minimum.mean_epg));
  if (minimum.eggs_counted_per_animal)
    parts.push_back(fmt::format("{:g} eggs counted an animal", *minimum.eggs_counted_per_animal));
}

std::string_view design_text(Design design) {
  switch (design) {
  case Design::two_group:
    return "treated against an untreated control group, after treatment alone";
  case Design::controlled:
    return "treated and untreated, both before and after treatment";
  case Design::paired:
  case Design::baseline:
    break;
  }
  return "the same animals before and after treatment";
}

std::string drug_classes_text(const std::vector<DrugClass>& classes) {
  std::vector<std::string> names;
  for (const DrugClass drug_class : classes)
    names.emplace_back(to_string(drug_class));
  return names.empty() ? "the drench" : in_words(names);
}

} // namespace eggfall
