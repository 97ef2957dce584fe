#include "teach/chamber/chamber_words.hpp"

#include "base/text.hpp"
#include "teach/chamber/chamber_figures.hpp"

#include <fmt/format.h>

namespace eggfall {

std::string chamber_style(const ChamberSpec& spec) {
  return fmt::format(R"css(
.chamber {{ max-height: 85vh; overflow: auto; border: 1px solid var(--line); }}
.chamber svg {{ display: block; width: 140rem; max-width: none; }}
thead th:first-child {{ text-align: left; }}
.small svg {{ min-width: 0; max-width: 34rem; }}
@media print {{ .chamber {{ max-height: none; overflow: visible; border: 0; margin: 2mm 0; }}
  .chamber svg {{ width: {:g}mm; }} .small svg {{ max-width: 125mm; }} }}
)css",
                     paper_width_mm(spec));
}

pugi::xml_node add_chamber_sheet(pugi::xml_node body, const ChamberView& view,
                                 const std::string& svg) {
  pugi::xml_node section = add_element(body, "section", "", "sheet");
  add_element(section, "h2", capitalised(chamber_words(view)));
  pugi::xml_node figure = add_scrolling(section, "figure", "Picture of " + chamber_words(view));
  figure.attribute("class").set_value("wide chamber");
  add_svg(figure, svg);
  return section;
}

std::string chamber_words(const ChamberView& view) {
  return fmt::format("sample {}, chamber {}", view.sample, view.chamber);
}

std::string short_name(ParticleKind egg) {
  std::string name(to_string(egg));
  return capitalised(name.substr(0, name.rfind(' ')));
}

std::string factor_words(const ChamberLesson& lesson) {
  const BenchFigures bench = bench_figures(lesson.spec, lesson.chambers_a_sample);
  return fmt::format("{:g} / ({:g} x {:g}) = {:g}", suspension_ml(bench), bench.faeces_g,
                     bench.chambers * *bench.chamber_volume_ml,
                     multiplication_factor(lesson).value());
}

std::string_view chamber_caution() {
  return "This lesson is paper only. At a real bench wear gloves and wash your hands: faeces carry "
         "disease, and flotation salts irritate skin and eyes. The pictures are drawings to "
         "practise counting, not a guide for diagnosis: what ails an animal is for a registered "
         "veterinarian or a laboratory to say.";
}

} // namespace eggfall
