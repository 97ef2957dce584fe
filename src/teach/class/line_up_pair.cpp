#include "teach/class/line_up_pair.hpp"

namespace eggfall {
namespace {

void add_line_up(pugi::xml_node parent, const LineUp& line_up, Method method,
                 std::string_view heading) {
  pugi::xml_node part = add_element(parent, "div", "", "half");
  add_element(part, "h3", heading);
  add_element(part, "p", tally_words(line_up, method));
  add_svg(add_element(part, "figure"), line_up_figure(line_up, method));
}

} // namespace

void add_line_up_pair(pugi::xml_node parent, const LineUp& line_up) {
  pugi::xml_node both = add_element(parent, "div", "", "pair");
  add_line_up(both, line_up, Method::log_ratio_1992, "By hand, formula of 1992");
  add_line_up(both, line_up, Method::guarded_posterior, "Posterior, guarded, same counts");
}

} // namespace eggfall
