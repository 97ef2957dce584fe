#include "report/drawing_specimen.hpp"

#include "formats/drawing/inks.hpp"
#include "report/farmer_words.hpp"
#include "support/page_words.hpp"

#include <catch2/catch.hpp>
#include <pugixml.hpp>

#include <string>

using namespace eggfall;

TEST_CASE("The specimen shows every ink with its use, every sign and every kind of tray") {
  pugi::xml_document page;
  REQUIRE(page.load_string(drawing_specimen().c_str(), pugi::parse_full));
  const std::string words = support::words_of(page);
  for (const Ink& each : all_inks) {
    INFO(each.name);
    CHECK(words.find(std::string(each.name) + " (" + std::string(each.light)) != std::string::npos);
    CHECK(words.find(each.use) != std::string::npos);
    CHECK(page.select_nodes(("//rect[@fill='" + ink_property(each.light) + "']").c_str()).size() >=
          1);
  }
  for (const DrenchSign sign : all_drench_signs)
    CHECK(words.find(sign_words(sign)) != std::string::npos);
  CHECK(page.select_nodes("//g[@class='eggs']").size() == 4);
  // No colour on the page is outside the palette: all have become its properties.
  for (const auto& node : page.select_nodes("//svg//@fill | //svg//@stroke")) {
    const std::string value = node.attribute().value();
    CHECK((value == "none" || value.starts_with("var(--")));
  }
}
