#include "formats/drawing/inks.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

using namespace eggfall;

namespace {

double channel(std::string_view colour, std::size_t position) {
  const double value = std::stoi(std::string(colour.substr(position, 2)), nullptr, 16) / 255.0;
  return value <= 0.04045 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
}

/// Relative luminance of WCAG 2.1 (W3C 2018), with the limit of the sRGB standard.
double luminance(std::string_view colour) {
  return 0.2126 * channel(colour, 1) + 0.7152 * channel(colour, 3) + 0.0722 * channel(colour, 5);
}

double contrast(std::string_view one, std::string_view other) {
  const double a = luminance(one);
  const double b = luminance(other);
  return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

const Ink& named(std::string_view name) {
  return *std::ranges::find(all_inks, name, &Ink::name);
}

} // namespace

TEST_CASE("Contrast is that of WCAG") {
  // W3C, Understanding success criterion 1.4.3: black on white is 21 to 1, #767676 is the lightest
  // grey for text on white (4.54).
  CHECK(contrast("#000000", "#ffffff") == Approx(21));
  CHECK(contrast("#767676", "#ffffff") == Approx(4.54).margin(0.005)); // two decimals are printed
}

TEST_CASE("Text is read on paper and in the dark, and marks are seen") {
  for (const std::string_view name : {"ink", "quiet", "deep", "miss"}) {
    INFO(name);
    CHECK(contrast(named(name).light, named("paper").light) >= 4.5);
    CHECK(contrast(named(name).dark, named("paper").dark) >= 4.5);
  }
  for (const std::string_view name : {"line", "resistant", "susceptible"}) {
    INFO(name);
    CHECK(contrast(named(name).light, named("paper").light) >= 3);
    CHECK(contrast(named(name).dark, named("paper").dark) >= 3);
  }
  for (const std::string_view ground : {"tint", "zone", "soft"}) {
    INFO(ground);
    if (ground == "tint") {
      CHECK(contrast(named("quiet").light, named(ground).light) >= 4.5);
      CHECK(contrast(named("quiet").dark, named(ground).dark) >= 4.5);
    }
    CHECK(contrast(named("ink").light, named(ground).light) >= 4.5);
    CHECK(contrast(named("ink").dark, named(ground).dark) >= 4.5);
    CHECK(contrast(named("deep").light, named(ground).light) >= 3);
    CHECK(contrast(named("deep").dark, named(ground).dark) >= 3);
  }
}

TEST_CASE("A colour is one ink and an ink has one name") {
  std::set<std::string_view> names;
  std::set<std::string_view> colours;
  for (const Ink& each : all_inks) {
    CHECK(names.insert(each.name).second);
    CHECK(colours.insert(each.light).second);
    CHECK_FALSE(each.use.empty());
    CHECK(ink_property(each.light) == "var(--" + std::string(each.name) + ")");
  }
  CHECK(ink_property("#123456") == "#123456");
  CHECK(ink_property("none") == "none");
}

TEST_CASE("The properties hold every ink twice, and paper is white in print") {
  const std::string css = ink_properties();
  for (const Ink& each : all_inks) {
    const std::string property = "--" + std::string(each.name) + ": ";
    CHECK(css.find(property + std::string(each.light)) != std::string::npos);
    CHECK(css.find(property + std::string(each.dark)) != std::string::npos);
  }
  // Dark values are for screens alone, so that paper keeps those for white.
  CHECK(css.find("@media screen and (prefers-color-scheme: dark)") != std::string::npos);
}
