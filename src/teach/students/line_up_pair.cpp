#include "teach/students/line_up_pair.hpp"

#include "formats/drawing/captioned_figure.hpp"

#include <fmt/format.h>

namespace eggfall {
namespace {

/// One half, of a whole line-up or a part of it.
void add_line_up(pugi::xml_node parent, const CaptionedFigure& figure, std::string_view heading) {
  pugi::xml_node half = add_element(parent, "div", "", "half");
  add_element(half, "h3", heading);
  add_figure(half, figure);
}

} // namespace

void add_line_up_pair(pugi::xml_node parent, const LineUp& line_up) {
  const std::vector<LineUp> sheets = line_ups_on_paper(line_up);
  for (const LineUp& sheet : sheets) {
    pugi::xml_node both = add_element(parent, "div", "", "pair");
    // The tally is of all tests, also where they go on in another pair.
    const auto add = [&](Method method, std::string_view heading) {
      const std::string part =
          sheets.size() == 1
              ? ""
              : fmt::format(" Here {} to {}.", sheet.rows.front().label, sheet.rows.back().label);
      add_line_up(both,
                  {tally_words(line_up, method) + part, line_up_figure(sheet, method),
                   std::string(line_up_key)},
                  heading);
    };
    add(Method::log_ratio_1992, "By hand, formula of 1992");
    add(Method::guarded_posterior, "Posterior, guarded, same counts");
  }
}

} // namespace eggfall
