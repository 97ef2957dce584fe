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

TEST_CASE("The page for students has a sheet a chamber with an empty tally", "[chamber]") {
  const ChamberLesson lesson = chamber_lesson(1);
  const std::string text = chamber_page(lesson);
  CHECK(text.size() < 500'000);
  const pugi::xml_document page = parsed(text);
  CHECK(drawn(page, "counted") == 0);
  const std::vector<pugi::xml_node> sections = chamber_sections(page);
  const std::vector<ChamberView> views = views_of(lesson);
  REQUIRE(sections.size() == views.size());
  for (std::size_t i = 0; i < views.size(); ++i) {
    INFO(sections[i].child("h2").text().get());
    for (const ParticleKind kind : particle_kinds)
      CHECK(drawn(sections[i], kind_class(kind)) == of_kind(views[i], kind));
    CHECK(sections[i].select_nodes(".//tbody/tr").size() == egg_kinds.size());
  }
  CHECK(page.select_nodes("//tbody//td").size() > 0);
  for (const auto& cell : page.select_nodes("//tbody//td"))
    CHECK(std::string_view(cell.node().text().get()).empty());
}

TEST_CASE("A picture's width on paper is that of its view box, 17 to 1", "[chamber]") {
  const ChamberLesson lesson = chamber_lesson(1);
  CHECK_THAT(paper_width_mm(lesson.spec), Catch::WithinRel(17 * 10.5, 1e-12));
  const pugi::xml_document page = parsed(chamber_page(lesson));
  CHECK_THAT(page.select_node("//style").node().text().get(),
             Catch::Contains(".chamber svg { width: 178.5mm; }"));
  for (const pugi::xml_node section : chamber_sections(page))
    CHECK_THAT(section.select_node(".//svg").node().attribute("viewBox").value(),
               Catch::StartsWith("-250 -250 10500 ")); // micrometres
}

TEST_CASE("The same lesson gives the same page, another seed another", "[chamber]") {
  CHECK(chamber_page(chamber_lesson(1)) == chamber_page(chamber_lesson(1)));
  CHECK(chamber_page(chamber_lesson(1)) != chamber_page(chamber_lesson(2)));
}

TEST_CASE("The page for students warns, and owns up to sizes from memory", "[chamber]") {
  const std::string words = words_of(parsed(chamber_page(chamber_lesson(1))));
  CHECK_THAT(words, Catch::Contains("gloves") && Catch::Contains("wash your hands") &&
                        Catch::Contains("not a guide for diagnosis") &&
                        Catch::Contains("registered veterinarian") &&
                        Catch::Contains("45 / (3 x 0.3) = 50"));
  CHECK_THAT(words, Catch::Contains("from memory: check against a parasitology textbook or your "
                                    "laboratory's plates"));
}
