#include "eggfall/trial/trial.hpp"

#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "trial/drug_words.hpp"
#include "trial/field_words.hpp"

#include <algorithm>

namespace eggfall {
namespace {

constexpr Names<DrugClass, all_drug_classes.size()> drug_class_names{{
    {DrugClass::bz, "BZ"},
    {DrugClass::lv, "LV"},
    {DrugClass::ml, "ML"},
    {DrugClass::ad, "AD"},
    {DrugClass::si, "SI"},
    {DrugClass::pyr, "PYR"},
}};

} // namespace

std::string_view to_string(DrugClass drug_class) {
  return name_of(drug_class_names, drug_class, "a drug class");
}

std::optional<DrugClass> parse_drug_class(std::string_view text) {
  for (const auto& [value, name] : drug_class_names)
    if (lower_case(name) == lower_case(text))
      return value;
  return drug_class_called(text);
}

std::optional<std::vector<DrugClass>> parse_drug_classes(std::string_view text) {
  std::vector<DrugClass> classes;
  while (true) {
    const auto plus = text.find('+');
    const auto parsed = parse_drug_class(trimmed(text.substr(0, plus)));
    if (!parsed)
      return std::nullopt;
    if (std::ranges::find(classes, *parsed) == classes.end())
      classes.push_back(*parsed);
    if (plus == std::string_view::npos)
      break;
    text.remove_prefix(plus + 1);
  }
  std::ranges::sort(classes);
  return classes;
}

std::string to_string(const std::vector<DrugClass>& classes) {
  std::string text;
  for (const DrugClass drug_class : classes) {
    if (!text.empty())
      text += '+';
    text += to_string(drug_class);
  }
  return text;
}

std::string canonical_host(std::string_view text) {
  const auto known = known_host(text);
  return known ? std::string(known->name) : lower_case(text);
}

std::string canonical_worm(std::string_view text) {
  const auto known = known_worm(text);
  return known ? std::string(known->name) : lower_case(text);
}

std::string_view to_string(Role role) {
  return role == Role::treated ? "treated" : "control";
}

double total_larvae(const Culture& culture) {
  if (culture.percentages)
    return culture.percentages->total;
  double total = 0;
  for (const WormLarvae& each : culture.worms)
    total += each.larvae;
  return total;
}

double larvae_of(const Culture& culture, std::string_view worm) {
  const auto found = std::ranges::find(culture.worms, worm, &WormLarvae::worm);
  return found == culture.worms.end() ? 0 : found->larvae;
}

const Group* control_of(const Trial& trial) {
  const auto found = std::ranges::find(trial.groups, Role::control, &Group::role);
  return found == trial.groups.end() ? nullptr : &*found;
}

} // namespace eggfall
