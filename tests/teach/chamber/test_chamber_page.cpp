#include "teach/chamber/chamber_page.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/chamber/chamber_figures.hpp"
#include "teach/chamber/drawn_chambers.hpp"
#include "teach/chamber/particle_drawing.hpp"

#include <pugixml.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;
using namespace drawn_chambers;
using support::words_of;

TEST_CASE("The page for students has sheets of all lanes, each with an empty tally", "[chamber]") {
  const ChamberPractical practical = chamber_practical(1);
  const std::string text = chamber_page(practical);
  CHECK(text.size() < 500'000);
  const pugi::xml_document page = parsed(text);
  CHECK(drawn(page, "counted") == 0);
  const std::vector<pugi::xml_node> sections = chamber_sections(page);
  const std::vector<ChamberView> views = views_of(practical);
  REQUIRE(sections.size() == 2 * views.size());
  for (std::size_t i = 0; i < sections.size(); ++i) {
    INFO(sections[i].select_node(".//h2").node().text().get());
    const LaneRange lanes = lane_pages(practical.spec)[i % 2];
    const pugi::xml_document alone = parsed(chamber_figure(views[i / 2], lanes));
    for (const ParticleKind kind : particle_kinds)
      CHECK(drawn(picture_on(sections[i]), kind_class(kind)) == drawn(alone, kind_class(kind)));
    CHECK(sections[i].select_nodes(".//tbody/tr").size() == egg_kinds.size());
  }
  CHECK(page.select_nodes("//tbody//td").size() > 0);
  for (const auto& cell : page.select_nodes("//tbody//td"))
    CHECK(std::string_view(cell.node().text().get()).empty());
}

TEST_CASE("The page says how large all is on paper", "[chamber]") {
  const std::string words = words_of(parsed(chamber_page(chamber_practical(1))));
  // Six lanes of a square of 4 mm, 60 to 1; eggs of 50 micrometres.
  CHECK_THAT(words, Catch::Contains("60 times its true size, a lane 40 mm wide and 240 mm long, "
                                    "the smallest kind of egg 3 mm"));
  CHECK_THAT(words, Catch::Contains("8 sheets on paper"));
}

TEST_CASE("The same lesson gives the same page, another seed another", "[chamber]") {
  CHECK(chamber_page(chamber_practical(1)) == chamber_page(chamber_practical(1)));
  CHECK(chamber_page(chamber_practical(1)) != chamber_page(chamber_practical(2)));
}

TEST_CASE("The page for students warns, and owns up to sizes from memory", "[chamber]") {
  const std::string words = words_of(parsed(chamber_page(chamber_practical(1))));
  CHECK_THAT(words, Catch::Contains("gloves") && Catch::Contains("wash your hands") &&
                        Catch::Contains("not a guide for diagnosis") &&
                        Catch::Contains("registered veterinarian") &&
                        Catch::Contains("mL in all") &&
                        Catch::Contains("So one egg seen stands for 50 eggs per gram"));
  CHECK_THAT(words, Catch::Contains("from memory: check against a parasitology textbook or your "
                                    "laboratory's plates"));
}
