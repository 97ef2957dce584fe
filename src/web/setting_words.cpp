#include "web/setting_words.hpp"

namespace eggfall::web {
namespace {

void replace_each(std::string& text, std::string_view found, std::string_view by) {
  for (std::size_t at = text.find(found); at != std::string::npos;
       at = text.find(found, at + by.size()))
    text.replace(at, found.size(), by);
}

/// Whether an option begins there, and not a dash within a text that somebody typed.
bool begins_option(const std::string& text, std::size_t at) {
  const bool alone = at == 0 || text[at - 1] == ' ' || text[at - 1] == '(';
  return alone && at + 2 < text.size() && text[at + 2] >= 'a' && text[at + 2] <= 'z';
}

} // namespace

std::string in_setting_words(std::string_view message) {
  constexpr std::string_view setting = "the setting ";
  std::string text(message);
  replace_each(text, "the option --", setting);
  replace_each(text, "'eggfall factor' works", "the bench calculator works");
  for (std::size_t at = text.find("--"); at != std::string::npos; at = text.find("--", at + 1))
    if (begins_option(text, at))
      text.replace(at, 2, setting);
  return text;
}

} // namespace eggfall::web
