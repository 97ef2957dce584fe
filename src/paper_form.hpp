#pragma once

#include "html_page.hpp"

#include <string>
#include <string_view>
#include <vector>

// What pages have that are printed to be filled in by hand.
namespace eggfall {

/// CSS of add_entries() and add_form(), and of sections that each start a new page of paper.
inline constexpr std::string_view form_style = R"css(
.entries { display: flex; flex-wrap: wrap; gap: 0.3rem 1.5rem; margin: 0.6rem 0; }
.entries span { flex: 1 1 12rem; border-bottom: 1px solid var(--ink); padding-top: 0.7rem;
  color: var(--quiet); }
.fill { width: 100%; } .fill td, .fill th { height: 2rem; } .fill td { min-width: 3.2rem; }
@media print {
  .sheet { break-before: page; } .fill td, .fill th { height: 8mm; } .fill td { min-width: 0; }
  h2 { margin-top: 0.4rem; }
}
)css";

/// Lines to write on.
void add_entries(pugi::xml_node parent, const std::vector<std::string>& names);

/// A table to be filled in by hand. Rows without a cell for a head are filled up with empty ones.
void add_form(pugi::xml_node parent, HtmlTable table);

} // namespace eggfall
