#include "eggfall/judgement/standing.hpp"

#include "base/enum_names.hpp"

namespace eggfall {
namespace {

constexpr Names<BarCode, all_bar_codes.size()> bar_names{{
    {BarCode::not_covered, "not-covered"},
    {BarCode::units_in_doubt, "units-in-doubt"},
    {BarCode::day, "day"},
    {BarCode::control, "control"},
    {BarCode::missing, "missing"},
    {BarCode::dose, "dose"},
    {BarCode::goat_dose, "goat-dose"},
    {BarCode::few_animals, "few-animals"},
    {BarCode::few_eggs, "few-eggs"},
    {BarCode::narrow_drench, "narrow-drench"},
    {BarCode::surviving_worm, "surviving-worm"},
}};

} // namespace

std::string_view to_string(BarCode code) {
  return name_of(bar_names, code, "a bar to judgement");
}

VerdictClass verdict_class_behind(const Bar& bar) {
  if (bar.own_verdict)
    return *bar.own_verdict;
  switch (bar.code) {
  case BarCode::not_covered:
  case BarCode::units_in_doubt:
  case BarCode::day:
    return VerdictClass::not_applicable;
  case BarCode::surviving_worm:
    return VerdictClass::resistant;
  case BarCode::control:
  case BarCode::missing:
  case BarCode::dose:
  case BarCode::goat_dose:
  case BarCode::few_animals:
  case BarCode::few_eggs:
  case BarCode::narrow_drench:
    break;
  }
  return VerdictClass::inconclusive;
}

bool gives_own_verdict(const Bar& bar) {
  return bar.own_verdict && *bar.own_verdict != VerdictClass::inconclusive;
}

bool is_barred(const Standing& standing) {
  return !standing.bars.empty() && !gives_own_verdict(standing.bars.front());
}

bool was_no_test(const Standing& standing) {
  return !standing.bars.empty() &&
         verdict_class_behind(standing.bars.front()) == VerdictClass::not_applicable;
}

} // namespace eggfall
