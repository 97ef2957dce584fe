#include "paper_form.hpp"

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

} // namespace eggfall
