#pragma once

#include "formats/drawing/html_page.hpp"
#include "teach/students/line_up.hpp"

#include <string_view>

namespace eggfall {

/// CSS of add_line_up_pair().
inline constexpr std::string_view line_up_pair_style = R"css(
.pair { display: flex; flex-wrap: wrap; gap: 1rem; } .half { flex: 1 1 20rem; min-width: 0; }
.pair h3 { margin: 0.6rem 0 0; } .pair figure { margin: 0; }
@media print { .pair { gap: 5mm; flex-wrap: nowrap; break-inside: avoid; } .half { flex: 1 1 0; }
  .pair h3 { margin-top: 0.2rem; } }
)css";

/// The intervals by the formula of 1992 and by the guarded posterior, side by side, each with its
/// tally; those of a large class in several pairs.
void add_line_up_pair(pugi::xml_node parent, const LineUp& line_up);

} // namespace eggfall
