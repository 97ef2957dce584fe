#include "formats/drawing/paper_form.hpp"

#include <fmt/format.h>

namespace eggfall {

void add_entries(pugi::xml_node parent, const std::vector<std::string>& names) {
  pugi::xml_node entries = add_element(parent, "div", "", "entries");
  for (const std::string& name : names)
    add_element(entries, "span", name);
}

void add_form(pugi::xml_node parent, HtmlTable table) {
  for (std::vector<std::string>& row : table.rows)
    row.resize(table.heads.size());
  add_wide_table(parent, table, "fill");
}

void add_step(pugi::xml_node steps, std::string_view what, const std::vector<std::string>& blanks) {
  pugi::xml_node step = add_element(steps, "li", what);
  for (const std::string& words : blanks) {
    step.append_child(pugi::node_pcdata).set_value(fmt::format(" {} ", words).c_str());
    add_element(step, "span", "", "blank");
  }
}

void add_question(pugi::xml_node steps, std::string_view question) {
  add_element(add_element(steps, "li", question), "span", "", "answer-line");
}

} // namespace eggfall
