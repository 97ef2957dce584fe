#include "cli/option_name.hpp"

#include <string>

namespace eggfall::cli {
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

std::string as_place(Setting setting) {
  switch (setting) {
  case Setting::bench_calculator:
    return "eggfall factor";
  case Setting::breakdown:
    return "--by";
  case Setting::cut_offs:
    return "--cutoffs";
  default: // an option that has the library's name
    return "--" + std::string(to_string(setting));
  }
}

std::string in_sentence(const Mention& mention) {
  const std::string& value = mention.value;
  std::string name = as_place(mention.setting);
  if (mention.setting == Setting::bench_calculator)
    return "'" + name + "'";
  if (value.empty())
    return name;
  const bool plain = value.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                             "0123456789_-=,./:") == std::string::npos;
  // Behind a blank, what begins with a hyphen would be an option of its own.
  const char parted = value.starts_with('-') ? '=' : ' ';
  return name + parted + (plain ? value : quoted_for_shell(value));
}

} // namespace

constexpr SettingNames option_names{" ", in_sentence, as_place};

} // namespace eggfall::cli
