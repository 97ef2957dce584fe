#include "teach/chamber/chamber_words.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <string>
#include <string_view>

using namespace eggfall;

TEST_CASE("A chamber, a kind and the factor have words of their own", "[chamber]") {
  ChamberView view;
  view.sample = "B";
  view.chamber = 2;
  CHECK(chamber_words(view) == "sample B, chamber 2");
  CHECK(short_name(ParticleKind::strongyle_type) == "Strongyle-type");
  CHECK(short_name(ParticleKind::nematodirus_like) == "Nematodirus-like");
  CHECK(short_name(ParticleKind::strongyloides_like) == "Strongyloides-like");
}

TEST_CASE("The factor is worked out from what is written down at the bench", "[chamber]") {
  ChamberLesson lesson;
  // 3 g in 42 mL: 45 mL of suspension, as 1 g is taken for 1 mL; two chambers of 0.15 mL.
  CHECK(factor_words(lesson) == "45 / (3 x 0.3) = 50");
  lesson.chambers_a_sample = 1;
  CHECK(factor_words(lesson) == "45 / (3 x 0.15) = 100");
  lesson.spec.faeces_g = 4;
  lesson.spec.fluid_ml = 56;
  CHECK(factor_words(lesson) == "60 / (4 x 0.15) = 100");
}

TEST_CASE("A sheet has its chamber's name, and a picture that scrolls by keyboard", "[chamber]") {
  ChamberView view;
  view.sample = "A";
  view.chamber = 1;
  pugi::xml_document page;
  const pugi::xml_node section =
      add_chamber_sheet(page.append_child("body"), view, "<svg viewBox=\"0 0 1 1\"/>");
  CHECK(std::string_view(section.attribute("class").value()) == "sheet");
  CHECK(std::string_view(section.child("h2").text().get()) == "Sample A, chamber 1");
  const pugi::xml_node figure = section.child("figure");
  CHECK(std::string_view(figure.attribute("aria-label").value()) ==
        "Picture of sample A, chamber 1");
  CHECK(std::string_view(figure.attribute("tabindex").value()) == "0");
  CHECK(figure.child("svg"));
}

TEST_CASE("A picture is printed at its true size", "[chamber]") {
  ChamberSpec spec;
  spec.side_um = 4'000;
  spec.margin_um = 500;
  // 5 mm of the chamber, 17 to 1.
  CHECK_THAT(chamber_style(spec), Catch::Contains(".chamber svg { width: 85mm; }"));
}
