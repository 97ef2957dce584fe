#include "formats/drawing/html_page.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/drawing/inks.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <sstream>
#include <string>

namespace eggfall {
namespace {

/// What all pages have alike: readable in light and dark, on a phone and on paper. Pictures keep
/// their own white paper; drawings in inks take the page's.
constexpr std::string_view common_style = R"css(
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 50rem; color: var(--ink);
  background: var(--paper); font: 1rem/1.5 Georgia, "Liberation Serif", serif;
  overflow-wrap: break-word; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0.5rem 0; }
h2 { font-size: 1.2rem; margin: 1.6rem 0 0.4rem; border-bottom: 2px solid var(--ink); }
.wide { overflow-x: auto; }
svg { width: 100%; min-width: 34rem; height: auto; }
figure { margin: 0.6rem 0; background: #ffffff; color: #1a1a1a; }
figure:has(.inked) { background: none; color: var(--ink); }
.inked { display: block; min-width: 0; }
.finding { font-weight: bold; margin: 0.2rem 0; line-height: 1.3; }
figcaption { font-size: 0.9rem; color: var(--quiet); line-height: 1.35; }
table { border-collapse: collapse; margin: 0.6rem 0; font-size: 0.95rem; }
caption { text-align: left; font-style: italic; padding: 0.2rem 0; }
th, td { border: 1px solid var(--line); padding: 0.2rem 0.5rem; text-align: right;
  font-variant-numeric: tabular-nums; }
tbody th { text-align: left; unicode-bidi: isolate; }
thead th { background: var(--tint); overflow-wrap: normal; }
.words th, .words td { text-align: left; vertical-align: top; }
.running { text-align: left; }
.note { font-size: 0.9rem; color: var(--quiet); }
@media screen and (max-width: 37rem) {
  body { padding: 0.75rem; }
  .blocks, .blocks tbody, .blocks tr, .blocks caption { display: block; }
  .blocks thead { display: none; }
  .blocks tr { display: grid; grid-template-columns: repeat(auto-fit, minmax(9.5rem, 1fr));
    column-gap: 1rem; border: 1px solid var(--line); margin: 0 0 0.5rem; }
  .blocks.words tr { grid-template-columns: 1fr; }
  .blocks tbody th { display: block; grid-column: 1 / -1; border: none; background: var(--tint); }
  .blocks td { display: flex; justify-content: space-between; gap: 1rem; border: none;
    border-top: 1px solid var(--rule); min-width: 0; }
  .blocks td::before { content: attr(data-head); text-align: left; color: var(--quiet);
    overflow-wrap: normal; }
  .blocks td:empty { display: none; }
}
@media print {
  @page { margin: 15mm; }
  body { max-width: none; padding: 0; font-size: 10.5pt; }
  svg { min-width: 0; } .wide { overflow-x: visible; } table { font-size: 9pt; }
  h2 { break-after: avoid; } thead { display: table-header-group; }
  tr, svg, figure { break-inside: avoid; }
}
)css";

/// A table with more columns than this does not fit a phone.
constexpr std::size_t columns_of_a_phone = 4;

/// Elements that have no content and no end tag.
constexpr std::array<std::string_view, 6> void_elements{"meta", "br", "hr", "img", "col", "input"};

bool is_void(std::string_view name) {
  return std::ranges::find(void_elements, name) != void_elements.end();
}

bool is_of_svg(pugi::xml_node node) {
  for (; !node.empty(); node = node.parent())
    if (std::string_view(node.name()) == "svg")
      return true;
  return false;
}

/// An SVG document within a page.
pugi::xml_node copy_of(pugi::xml_node parent, std::string_view svg) {
  pugi::xml_document drawing;
  if (!drawing.load_buffer(svg.data(), svg.size(), pugi::parse_full & ~pugi::parse_doctype))
    throw CalculationError("a figure that is no SVG");
  pugi::xml_node copy = parent.append_copy(drawing.document_element());
  copy.remove_attribute("width");
  copy.remove_attribute("height");
  return copy;
}

/// A value of a presentation attribute is read as CSS, so a property stands where a colour did.
void take_inks(pugi::xml_node node) {
  for (const char* attribute : {"fill", "stroke"})
    if (pugi::xml_attribute found = node.attribute(attribute))
      found.set_value(ink_property(found.value()).c_str());
  // HTML knows no fill of an svg element, so that of a whole drawing stands in its style.
  if (pugi::xml_attribute style = node.attribute("style")) {
    std::string text = style.value();
    for (const Ink& each : all_inks)
      if (const std::size_t position = text.find(each.light); position != std::string::npos)
        text.replace(position, each.light.size(), ink_property(each.light));
    style.set_value(text.c_str());
  }
  for (pugi::xml_node child : node.children())
    take_inks(child);
}

/// Gives every cell its head, which stands before it where the heads are left out.
void turn_into_blocks(pugi::xml_node table, const std::vector<std::string>& heads) {
  const std::string css_class = table.attribute("class").value();
  set(table, "class", css_class.empty() ? "blocks" : css_class + " blocks");
  for (pugi::xml_node row : table.child("tbody").children()) {
    std::size_t column = 0;
    for (pugi::xml_node cell : row.children())
      if (const std::string& head = heads[column++]; std::string_view(cell.name()) == "td")
        set(cell, "data-head", head);
  }
}

/// In HTML "<td/>" opens a cell and does not close it, so empty elements are given an empty text.
void close_empty(pugi::xml_node node) {
  for (pugi::xml_node child : node.children()) {
    if (child.type() != pugi::node_element || is_of_svg(child))
      continue;
    if (!child.first_child() && !is_void(child.name()))
      child.append_child(pugi::node_pcdata);
    close_empty(child);
  }
}

} // namespace

HtmlPage::HtmlPage(std::string_view title, std::string_view style, std::string_view language) {
  if (style.find_first_of("<>&") != std::string_view::npos)
    throw CalculationError("a style with a character that would be escaped");
  pugi::xml_node html = document_.append_child("html");
  html.append_attribute("lang").set_value(std::string(language).c_str());
  pugi::xml_node head = html.append_child("head");
  head.append_child("meta").append_attribute("charset").set_value("utf-8");
  pugi::xml_node viewport = head.append_child("meta");
  viewport.append_attribute("name").set_value("viewport");
  viewport.append_attribute("content").set_value("width=device-width, initial-scale=1");
  add_element(head, "title", title);
  std::string styles = ink_properties() + std::string(common_style);
  styles += style;
  head.append_child("style").append_child(pugi::node_pcdata).set_value(styles.c_str());
  body_ = html.append_child("body");
}

void HtmlPage::add_script(std::string_view script) {
  const std::string small = lower_case(script);
  if (small.find("</script") != std::string::npos || small.find("<!--") != std::string::npos)
    throw CalculationError("a script that would end or go astray in the middle");
  scripts_.emplace_back(script);
}

std::string HtmlPage::text() const {
  pugi::xml_document copy;
  copy.reset(document_);
  close_empty(copy.root());
  std::ostringstream out;
  copy.save(out, "", pugi::format_raw | pugi::format_no_declaration, pugi::encoding_utf8);
  std::string text = "<!DOCTYPE html>\n" + out.str() + "\n";
  std::string scripts;
  for (const std::string& script : scripts_)
    scripts += "<script>\n" + script + "</script>";
  return text.insert(text.rfind("</body>"), scripts);
}

pugi::xml_node add_element(pugi::xml_node parent, const char* name, std::string_view text,
                           std::string_view css_class) {
  pugi::xml_node node = parent.append_child(name);
  if (!css_class.empty())
    node.append_attribute("class").set_value(std::string(css_class).c_str());
  if (!text.empty())
    append_words(node, text);
  return node;
}

void append_words(pugi::xml_node parent, std::string_view text) {
  parent.append_child(pugi::node_pcdata).set_value(without_controls(text).c_str());
}

pugi::xml_node add_table(pugi::xml_node parent, const HtmlTable& table,
                         std::string_view css_class) {
  pugi::xml_node node = add_element(parent, "table", "", css_class);
  if (!table.caption.empty())
    add_element(node, "caption", table.caption);
  pugi::xml_node above = node.append_child("thead");
  if (!table.running_head.empty())
    add_element(above.append_child("tr"), "th", table.running_head, "running")
        .append_attribute("colspan")
        .set_value(static_cast<unsigned>(table.heads.size()));
  pugi::xml_node heads = above.append_child("tr");
  for (const std::string& head : table.heads)
    add_element(heads, "th", head).append_attribute("scope").set_value("col");
  pugi::xml_node rows = node.append_child("tbody");
  for (const std::vector<std::string>& row : table.rows) {
    pugi::xml_node cells = rows.append_child("tr");
    for (std::size_t i = 0; i < row.size(); ++i)
      if (i == 0 && !row[i].empty())
        add_element(cells, "th", row[i]).append_attribute("scope").set_value("row");
      else
        add_element(cells, "td", row[i]);
  }
  return node;
}

pugi::xml_node add_scrolling(pugi::xml_node parent, const char* name, std::string_view label) {
  pugi::xml_node node = add_element(parent, name, "", "wide");
  node.append_attribute("tabindex").set_value("0");
  node.append_attribute("role").set_value("group");
  node.append_attribute("aria-label").set_value(without_controls(label).c_str());
  return node;
}

pugi::xml_node add_wide_table(pugi::xml_node parent, const HtmlTable& table,
                              std::string_view css_class) {
  const std::string& label = table.caption.empty() ? table.running_head : table.caption;
  pugi::xml_node node = add_table(add_scrolling(parent, "div", label), table, css_class);
  // What is to be filled in by hand keeps its grid, for paper.
  if (table.heads.size() > columns_of_a_phone && css_class.find("fill") == std::string_view::npos)
    turn_into_blocks(node, table.heads);
  return node;
}

void add_svg(pugi::xml_node parent, std::string_view svg) {
  copy_of(parent, svg);
}

void add_inked_svg(pugi::xml_node parent, std::string_view svg) {
  pugi::xml_node copy = copy_of(parent, svg);
  const std::string own = copy.attribute("class").value();
  set(copy, "class", own.empty() ? "inked" : own + " inked");
  take_inks(copy);
}

std::string paper_foot(std::string_view text) {
  // As CSS writes characters that would end a string, or that the page would escape.
  std::string quoted;
  for (const char each : without_controls(text))
    quoted += std::string_view("\\\"<>&").find(each) == std::string_view::npos
                  ? std::string(1, each)
                  : fmt::format("\\{:x} ", static_cast<unsigned char>(each));
  constexpr std::string_view font = "font: 8pt Georgia, 'Liberation Serif', serif; color: #444444;";
  return fmt::format("@page {{ @bottom-left {{ content: \"{}\"; {} }} @bottom-right {{ content: "
                     "\"page \" counter(page) \" of \" counter(pages); {} }} }}\n",
                     quoted, font, font);
}

} // namespace eggfall
