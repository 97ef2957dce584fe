#include "teach/chamber/chamber_words.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

namespace eggfall {

pugi::xml_node add_chamber_page(pugi::xml_node body, const ChamberView& view,
                                const LaneRange& lanes, const std::string& svg) {
  pugi::xml_node section = add_element(body, "section", "", "sheet slide");
  pugi::xml_node beside = add_element(section, "div", "", "beside");
  const std::string words = fmt::format("{}, {}", chamber_words(view), lane_words(lanes));
  add_element(beside, "h2", capitalised(words));
  pugi::xml_node map = add_element(beside, "figure", "", "map");
  add_inked_svg(map, lane_map(view.spec, lanes));
  pugi::xml_node bar = add_element(beside, "figure");
  add_inked_svg(bar, scale_bar());
  pugi::xml_node figure = add_scrolling(section, "figure", "Picture of " + words);
  figure.attribute("class").set_value("wide chamber");
  add_svg(figure, svg);
  return beside;
}

std::string chamber_words(const ChamberView& view) {
  return fmt::format("sample {}, chamber {}", view.sample, view.chamber);
}

std::string short_name(ParticleKind egg) {
  std::string name(to_string(egg));
  return capitalised(name.substr(0, name.rfind(' ')));
}

Formula factor_formula(const ChamberPractical& practical) {
  const BenchFigures bench = bench_figures(practical.spec, practical.chambers_a_sample);
  return Formula::fraction("mL in all", "grams \u00d7 mL counted") + "=" +
         Formula::fraction(fmt::format("{:g}", suspension_ml(bench)).c_str(),
                           fmt::format("{:g} \u00d7 {:g}", bench.faeces_g,
                                       bench.chambers * *bench.chamber_volume_ml)
                               .c_str()) +
         fmt::format("= {:g}", multiplication_factor(practical).value()).c_str();
}

std::string_view chamber_caution() {
  return "This lesson is paper only. At a real bench wear gloves and wash your hands: faeces carry "
         "disease, and flotation salts irritate skin and eyes. The pictures are drawings to "
         "practise counting, not a guide for diagnosis: what ails an animal is for a registered "
         "veterinarian or a laboratory to say.";
}

} // namespace eggfall
