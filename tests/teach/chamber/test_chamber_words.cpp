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
  ChamberPractical practical;
  // 3 g in 42 mL: 45 mL of suspension, as 1 g is taken for 1 mL; two chambers of 0.15 mL.
  const std::string lead = "mL in all / (grams \u00d7 mL counted) = ";
  CHECK(factor_formula(practical).line() == lead + "45 / (3 \u00d7 0.3) = 50");
  practical.chambers_a_sample = 1;
  CHECK(factor_formula(practical).line() == lead + "45 / (3 \u00d7 0.15) = 100");
  practical.spec.faeces_g = 4;
  practical.spec.fluid_ml = 56;
  CHECK(factor_formula(practical).line() == lead + "60 / (4 \u00d7 0.15) = 100");
}

TEST_CASE("A sheet has its lanes' name, and a picture that scrolls by keyboard", "[chamber]") {
  ChamberView view;
  view.sample = "A";
  view.chamber = 1;
  pugi::xml_document page;
  const pugi::xml_node beside =
      add_chamber_page(page.append_child("body"), view, {4, 6}, "<svg viewBox=\"0 0 1 1\"/>");
  CHECK(std::string_view(beside.child("h2").text().get()) == "Sample A, chamber 1, lanes 4 to 6");
  CHECK(beside.select_nodes("figure/svg").size() == 2); // the map of the lanes, and the scale bar
  const pugi::xml_node section = beside.parent();
  CHECK(std::string_view(section.attribute("class").value()) == "sheet slide");
  const pugi::xml_node figure = section.child("figure");
  CHECK(std::string_view(figure.attribute("aria-label").value()) ==
        "Picture of sample A, chamber 1, lanes 4 to 6");
  CHECK(std::string_view(figure.attribute("tabindex").value()) == "0");
  CHECK(figure.child("svg"));
}
