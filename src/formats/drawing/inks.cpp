#include "formats/drawing/inks.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall {
namespace {

std::string values(std::string_view Ink::*value) {
  std::string text;
  for (const Ink& each : all_inks)
    text += fmt::format(" --{}: {};", each.name, each.*value);
  return text;
}

} // namespace

std::string ink_properties() {
  return fmt::format(":root {{ color-scheme: light dark;{} }}\n"
                     "@media screen and (prefers-color-scheme: dark) {{ :root {{{} }} }}\n"
                     "@media print {{ :root {{ color-scheme: light; }} }}\n",
                     values(&Ink::light), values(&Ink::dark));
}

std::string ink_property(std::string_view colour) {
  const auto* const found = std::ranges::find(all_inks, colour, &Ink::light);
  return found == all_inks.end() ? std::string(colour) : fmt::format("var(--{})", found->name);
}

} // namespace eggfall
