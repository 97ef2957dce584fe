#include "eggfall/trial/trial.hpp"

#include "base/enum_names.hpp"
#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<DrugClass, all_drug_classes.size()> class_names{{
    {DrugClass::bz, "BZ"},
    {DrugClass::lv, "LV"},
    {DrugClass::ml, "ML"},
    {DrugClass::ad, "AD"},
    {DrugClass::si, "SI"},
    {DrugClass::pyr, "PYR"},
}};

constexpr std::array<std::pair<std::string_view, std::string_view>, 15> host_spellings{{
    {"lamb", "sheep"},
    {"lambs", "sheep"},
    {"ewe", "sheep"},
    {"ewes", "sheep"},
    {"goat", "goats"},
    {"kid", "goats"},
    {"kids", "goats"},
    {"cow", "cattle"},
    {"cows", "cattle"},
    {"calf", "cattle"},
    {"calves", "cattle"},
    {"horse", "horses"},
    {"foal", "horses"},
    {"foals", "horses"},
    {"pig", "pigs"},
}};

constexpr std::array<std::pair<std::string_view, std::string_view>, 7> worm_spellings{{
    {"strongyle", "strongyles"},
    {"strongylid", "strongyles"},
    {"cyathostomin", "strongyles"},
    {"cyathostomins", "strongyles"},
    {"ascarid", "ascarids"},
    {"parascaris", "ascarids"},
    {"nem", "nematodirus"},
}};

template <std::size_t N>
std::string
canonical(std::string_view text,
          const std::array<std::pair<std::string_view, std::string_view>, N>& spellings) {
  std::string lower = lower_case(text);
  for (const auto& [spelling, name] : spellings)
    if (lower == spelling)
      return std::string(name);
  return lower;
}

} // namespace

std::string_view to_string(DrugClass drug_class) {
  return name_of(class_names, drug_class, "a drug class");
}

std::optional<DrugClass> parse_drug_class(std::string_view text) {
  for (const auto& [value, name] : class_names)
    if (lower_case(name) == lower_case(text))
      return value;
  return std::nullopt;
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
  return canonical(text, host_spellings);
}

std::string canonical_worm(std::string_view text) {
  return canonical(text, worm_spellings);
}

std::string_view to_string(Role role) {
  return role == Role::treated ? "treated" : "control";
}

std::uint64_t total_larvae(const Culture& culture) {
  std::uint64_t total = 0;
  for (const WormLarvae& each : culture)
    total += each.larvae;
  return total;
}

std::uint32_t larvae_of(const Culture& culture, std::string_view worm) {
  const auto found = std::ranges::find(culture, worm, &WormLarvae::worm);
  return found == culture.end() ? 0 : found->larvae;
}

const Group* control_of(const Trial& trial) {
  const auto found = std::ranges::find(trial.groups, Role::control, &Group::role);
  return found == trial.groups.end() ? nullptr : &*found;
}

} // namespace eggfall
