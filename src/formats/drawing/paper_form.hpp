#pragma once

#include "formats/drawing/html_page.hpp"

#include <string>
#include <string_view>
#include <vector>

// What pages have that are printed to be filled in by hand.
namespace eggfall {

/// CSS of add_entries(), add_form(), add_step() and add_question(), and of sections that each start
/// a new page of paper.
inline constexpr std::string_view form_style = R"css(
.entries { display: flex; flex-wrap: wrap; gap: 0.3rem 1.2rem; margin: 0.6rem 0; }
.entries span { display: flex; flex: 1 1 auto; align-items: flex-end; gap: 0.4rem;
  padding-top: 0.7rem; color: var(--quiet); }
.entries span::after { content: ""; flex: 1 0 5.5rem; border-bottom: 1px solid var(--ink); }
.steps li { margin: 0.35rem 0; } .blank { display: inline-block; min-width: 5.5rem;
  border-bottom: 1px solid var(--ink); } .answer-line { display: block; height: 1.7rem;
  border-bottom: 1px solid var(--ink); }
.fill thead th:first-child { text-align: left; }
.fill { width: 100%; } .fill td, .fill th { height: 2rem; } .fill td { min-width: 3.2rem; }
@media print {
  .sheet { break-before: page; } .fill td, .fill th { height: 8mm; } .fill td { min-width: 0; }
  h2 { margin-top: 0.4rem; } .steps li { margin: 0.15rem 0; }
}
)css";

/// Lines to write on, each beside its name.
void add_entries(pugi::xml_node parent, const std::vector<std::string>& names);

/// A table to be filled in by hand. Rows without a cell for a head are filled up with empty ones.
void add_form(pugi::xml_node parent, HtmlTable table);

/// A numbered step of a list of class "steps": what to do, and blanks to write in, each after some
/// words.
void add_step(pugi::xml_node steps, std::string_view what, const std::vector<std::string>& blanks);

/// A numbered question, and a line to answer it on.
void add_question(pugi::xml_node steps, std::string_view question);

} // namespace eggfall
