#include "plan/dose_strip.hpp"

#include "eggfall/judgement/dose_check.hpp"
#include "formats/drawing/html_page.hpp"
#include "plan/group_sign.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace eggfall {
namespace {

constexpr std::size_t open_cells = 12; ///< Of a strip whose weights are to be filled in.

constexpr std::string_view no_dose = "\u2013";

bool overdosed(const FieldSheetQuestion& question, const PlannedGroup& group, int kg) {
  return group.label && steps_overdose(*group.label, kg, question.dose_step_ml);
}

std::string strip_dose(const FieldSheetQuestion& question, const PlannedGroup& group, int kg) {
  if (!group.label)
    return {};
  if (overdosed(question, group, kg))
    return std::string(no_dose);
  return fmt::format("{:.{}f}", group.label->dose_ml(kg, question.dose_step_ml),
                     question.dose_decimals());
}

void add_strip_cells(pugi::xml_node strip, const FieldSheetQuestion& question,
                     const PlannedGroup& group) {
  pugi::xml_node cells = add_element(strip, "ul");
  const std::vector<int> weights = strip_weights(question.host);
  for (const int kg : weights) {
    pugi::xml_node cell = add_element(cells, "li");
    add_element(cell, "span", fmt::format("{} kg", kg));
    add_element(cell, "b", strip_dose(question, group, kg));
  }
  for (std::size_t i = 0; weights.empty() && i < open_cells; ++i) {
    pugi::xml_node cell = add_element(cells, "li", "", "open");
    add_element(cell, "span", "kg");
    add_element(cell, "b");
  }
}

std::string strip_words(const FieldSheets& sheets, const std::vector<std::size_t>& groups) {
  const FieldSheetQuestion& question = sheets.question;
  const auto labelled = [&](std::size_t group) { return question.groups[group].label.has_value(); };
  std::string text = "Doses by weight: kg above, mL below. ";
  if (std::ranges::any_of(groups, labelled))
    text += fmt::format("Between two weights: the rate times today's weight, rounded up to {:g} "
                        "mL. ",
                        question.dose_step_ml);
  const std::vector<int> weights = strip_weights(question.host);
  const auto too_coarse = [&](std::size_t group) {
    return std::ranges::any_of(
        weights, [&](int kg) { return overdosed(question, question.groups[group], kg); });
  };
  if (std::ranges::any_of(groups, too_coarse))
    text += fmt::format("A dash: no dose, for steps of {:g} mL would give {:g} times the label's "
                        "or more (use a gun of finer steps for such an animal). ",
                        question.dose_step_ml, overdosed_from());
  if (weights.empty() || !std::ranges::all_of(groups, labelled))
    text += "Fill in blanks before the day with the veterinarian, from the label, which also says "
            "what holds between two weights. ";
  text.pop_back();
  return text;
}

} // namespace

std::vector<std::size_t> groups_without_dose(const FieldSheets& sheets) {
  std::vector<std::size_t> groups;
  for (std::size_t group = 0; group < sheets.balance.size(); ++group)
    if (sheets.balance[group].without_dose > 0)
      groups.push_back(group);
  return groups;
}

std::vector<int> strip_weights(std::string_view host) {
  int least = 0;
  int most = 0;
  int step = 1;
  if (host == "sheep" || host == "goats") {
    least = 10;
    most = 90;
    step = 5;
  } else if (host == "cattle") {
    least = 100;
    most = 700;
    step = 50;
  }
  std::vector<int> weights;
  for (int kg = least; kg > 0 && kg <= most; kg += step)
    weights.push_back(kg);
  return weights;
}

std::optional<ValueRange> possible_weights(std::string_view host) {
  constexpr double generous = 2;
  const std::vector<int> weights = strip_weights(host);
  if (weights.empty())
    return std::nullopt;
  return ValueRange{weights.front() / generous, weights.back() * generous};
}

void add_dose_strips(pugi::xml_node section, const FieldSheets& sheets) {
  const std::vector<std::size_t> groups = groups_without_dose(sheets);
  if (groups.empty())
    return;
  const std::vector<GroupSign> signs = group_signs(sheets.question.groups);
  for (const std::size_t i : groups) {
    const PlannedGroup& group = sheets.question.groups[i];
    pugi::xml_node strip = add_element(section, "div", "", "strip");
    pugi::xml_node name = add_element(strip, "p");
    add_inked_svg(name, signs[i].svg);
    append_words(name, " ");
    add_element(name, "strong", fmt::format("{}: {}", signs[i].word(), group.name));
    append_words(name, group.label
                           ? fmt::format(", mL at {:.4g} mL per kg", group.label->ml_per_kg())
                           : std::string(", mL by the label"));
    add_strip_cells(strip, sheets.question, group);
  }
  add_element(section, "p", strip_words(sheets, groups), "how");
}

} // namespace eggfall
