#include "intake/open_question.hpp"

#include <utility>

namespace eggfall {
namespace {

Problem with_answers(Problem place, const std::vector<LayoutAnswer>& answers) {
  place.expected = "an answer: ";
  for (const LayoutAnswer& answer : answers) {
    if (&answer != &answers.front())
      place.expected += &answer == &answers.back() ? ", or " : ", ";
    std::vector<Mention> together;
    for (const LayoutSetting& setting : answer.settings)
      together.push_back(mention_of(setting));
    place.expected += Wording(std::move(together));
    if (!answer.means.empty())
      place.expected += " (" + answer.means + ")";
  }
  return place;
}

} // namespace

Mention mention_of(const LayoutSetting& setting) {
  const auto known = parse_setting(setting.key);
  if (!known)
    throw CalculationError("an answer by a key without a setting: " + setting.key);
  return {*known, setting.value};
}

LayoutAnswer answer(std::string key, std::string value, std::string means) {
  return {{{std::move(key), std::move(value)}}, std::move(means)};
}

OpenQuestion::OpenQuestion(Problem place, std::vector<LayoutAnswer> answers)
    : InputError({with_answers(std::move(place), answers)}), answers_(std::move(answers)) {}

} // namespace eggfall
