#include "intake/open_question.hpp"

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

/// In double quotes, but in single ones where a shell would look into those.
std::string quoted_for_shell(const std::string& value) {
  if (value.find_first_of("\"$`\\!") == std::string::npos)
    return '"' + value + '"';
  std::string out = "'";
  for (const char c : value)
    out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + '\'';
}

Problem with_answers(Problem place, const std::vector<LayoutAnswer>& answers) {
  place.expected = "an answer: ";
  for (const LayoutAnswer& answer : answers) {
    if (&answer != &answers.front())
      place.expected += &answer == &answers.back() ? ", or " : ", ";
    for (const LayoutSetting& setting : answer.settings) {
      if (&setting != &answer.settings.front())
        place.expected += ' ';
      place.expected += as_option(setting);
    }
    if (!answer.means.empty())
      place.expected += " (" + answer.means + ')';
  }
  return place;
}

} // namespace

std::string as_option(const LayoutSetting& setting) {
  const std::string& value = setting.value;
  const bool plain = value.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                             "0123456789_-=,./:") == std::string::npos;
  // Behind a blank, what begins with a hyphen would be an option of its own.
  const char parted = value.starts_with('-') ? '=' : ' ';
  return "--" + setting.key + parted + (plain ? value : quoted_for_shell(value));
}

LayoutAnswer answer(std::string key, std::string value, std::string means) {
  return {{{std::move(key), std::move(value)}}, std::move(means)};
}

OpenQuestion::OpenQuestion(Problem place, std::vector<LayoutAnswer> answers)
    : InputError({with_answers(std::move(place), answers)}), answers_(std::move(answers)) {}

} // namespace eggfall
