#include "intake/open_question.hpp"

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

/// As a shell takes it.
std::string quoted_value(const std::string& value) {
  const bool plain = value.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                             "0123456789_-=,./:") == std::string::npos;
  return plain ? value : '"' + value + '"';
}

Problem with_answers(Problem place, const std::vector<LayoutAnswer>& answers) {
  place.expected = "an answer: ";
  for (const LayoutAnswer& answer : answers) {
    if (&answer != &answers.front())
      place.expected += &answer == &answers.back() ? ", or " : ", ";
    place.expected += "--" + answer.key + ' ' + quoted_value(answer.value);
    if (!answer.means.empty())
      place.expected += " (" + answer.means + ')';
  }
  return place;
}

} // namespace

OpenQuestion::OpenQuestion(Problem place, std::vector<LayoutAnswer> answers)
    : InputError({with_answers(std::move(place), answers)}), answers_(std::move(answers)) {}

} // namespace eggfall
