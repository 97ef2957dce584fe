#include "plan/hundred_tests.hpp"

#include "formats/drawing/inks.hpp"
#include "formats/drawing/narrow_figure.hpp"
#include "plan/plan_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

namespace eggfall {
namespace {

constexpr std::size_t in_a_row = 20;
constexpr double sign_pitch = 15;
constexpr double sign_size = 11;
constexpr double between_tens = 8; ///< So that a row is counted at a glance.
constexpr double sign_line = 18;   ///< Of a sign with its words.
constexpr double cross_width = 2.4;
constexpr double outline_width = 1.2;

enum class TestSign { right, unclear, misleading };

void draw_sign(pugi::xml_node parent, SvgPoint place, TestSign sign) {
  if (sign == TestSign::misleading) {
    const double far = sign_size - 1;
    add_rule(parent, {place.x + 1, place.y + 1}, {place.x + far, place.y + far}, miss_colour,
             cross_width);
    add_rule(parent, {place.x + 1, place.y + far}, {place.x + far, place.y + 1}, miss_colour,
             cross_width);
    return;
  }
  pugi::xml_node box = add_box(parent, {place.x + 0.5, place.y + 0.5, sign_size - 1, sign_size - 1},
                               sign == TestSign::right ? deep_colour : paper_colour);
  set(box, "rx", 2);
  set(box, "stroke", sign == TestSign::right ? deep_colour : ink);
  set(box, "stroke-width", outline_width);
}

/// "92 say so", "1 says so"
std::string how_many(double share, std::string_view they, std::string_view it) {
  const std::string number = how_many_of_100(share);
  const bool one = number == "1" || number == "fewer than 1";
  return fmt::format("{} {}", number, one ? it : they);
}

struct AskedDrench {
  std::string words; ///< "a drench that works (it truly removes 99.5%)"
  double right = 0;
  double misleading = 0;
  std::string_view right_call;
  std::string_view misleading_call;
};

CaptionedFigure figure_of(const AskedDrench& asked) {
  const HundredTests tests = hundred_tests(asked.right, asked.misleading);
  const std::string finding =
      fmt::format("100 tests of {}: {}.", asked.words, how_many(asked.right, "say so", "says so"));
  const double unclear = std::max(0.0, 1 - asked.right - asked.misleading);
  const std::vector<std::pair<TestSign, std::string>> lines{
      {TestSign::right,
       fmt::format("{}: {}", how_many(asked.right, "say so", "says so"), asked.right_call)},
      {TestSign::unclear, how_many(unclear, "cannot tell", "cannot tell")},
      {TestSign::misleading,
       fmt::format("{}: {}", how_many(asked.misleading, "mislead", "misleads"),
                   asked.misleading_call)}};
  NarrowFigure figure(
      finding, fmt::format("{}; {}; {}.", lines[0].second, lines[1].second, lines[2].second));
  const double left = NarrowFigure::margin;
  double y = NarrowFigure::margin;
  const pugi::xml_node signs = add_group(figure.svg(), "tests");
  for (std::size_t i = 0; i < 100; ++i) {
    const std::size_t column = i % in_a_row;
    const double x = left + sign_pitch * static_cast<double>(column) +
                     (column < in_a_row / 2 ? 0 : between_tens);
    draw_sign(signs, {x, y + sign_pitch * static_cast<double>(i / in_a_row)},
              i < tests.right                   ? TestSign::right
              : i < tests.right + tests.unclear ? TestSign::unclear
                                                : TestSign::misleading);
  }
  y += sign_pitch * 100 / in_a_row + NarrowFigure::margin;
  for (const auto& [sign, words] : lines) {
    draw_sign(figure.svg(), {left, y}, sign);
    add_label(figure.svg(), {left + sign_pitch + 4, y + sign_size - 1}, words, Anchor::start,
              text_size);
    y += sign_line;
  }
  return {finding, figure.finished(y), ""};
}

} // namespace

HundredTests hundred_tests(double right, double misleading) {
  const auto whole = [](double share) {
    // As text is rounded: a half to the even number, so that two halves do not make 101.
    return static_cast<std::size_t>(std::nearbyint(100 * std::clamp(share, 0.0, 1.0)));
  };
  HundredTests tests{whole(right), whole(misleading), 0};
  tests.misleading = std::min(tests.misleading, 100 - tests.right);
  tests.unclear = 100 - tests.right - tests.misleading;
  return tests;
}

std::vector<CaptionedFigure> hundred_tests_figures(const PlannedOption& planned, const PlanAim& aim,
                                                   std::size_t criterion) {
  const RightAnswers answers = right_answers(planned, aim, criterion);
  const AuditCriterion& criterion_asked = aim.criteria.at(criterion);
  const auto outcome_at = [&](double efficacy) -> const PlanOutcome& {
    return *std::ranges::find_if(planned.outcomes, [&](const PlanOutcome& outcome) {
      return same_efficacy(outcome.efficacy, efficacy);
    });
  };
  const std::string whose =
      aim.criteria.size() > 1 ? " of " + drug_classes_text(aim.classes.at(criterion)) : "";
  const auto words = [&](std::string_view does, double removes) {
    return fmt::format("a drench{} that {} (it truly removes {})", whose, does,
                       efficacy_text(removes));
  };
  return {figure_of({words("works", answers.works), answers.good.value,
                     called_resistant(outcome_at(answers.works), criterion_asked, criterion).value,
                     "called susceptible", "called resistant"}),
          figure_of({words("fails", answers.fails), answers.poor.value,
                     chance(outcome_at(answers.fails), criterion_asked, criterion,
                            VerdictClass::susceptible)
                         .value,
                     "called resistant", "called susceptible"})};
}

} // namespace eggfall
