#include "formats/drawing/document_page.hpp"

#include "formats/drawing/html_page.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <fmt/format.h>

#include <string_view>

namespace eggfall {
namespace {

constexpr std::string_view document_style = R"css(
.part + .part { border-top: 2px solid var(--ink); margin-top: 2rem; padding-top: 1rem; }
.part p { margin: 0.4rem 0; } .part h1 { font-size: 1.4rem; }
.part h2 { font-size: 1.1rem; margin: 0.9rem 0 0; border: none; }
.part table { width: 100%; table-layout: fixed; }
.part th, .part td { text-align: left; vertical-align: top; overflow-wrap: anywhere; }
.entry { display: flex; gap: 0.5rem; max-width: 32rem; } .entry .name { flex: none; }
.entry .line { flex: 1; border-bottom: 1px solid var(--ink); min-height: 1.4rem; }
.part .signature { margin-top: 1.8rem; }
.part thead th { overflow-wrap: normal; }
@media screen and (max-width: 37rem) {
  .part table { font-size: 0.85rem; } .part th, .part td { padding: 0.2rem; }
}
@media print {
  .part + .part { break-before: page; border: none; margin: 0; padding: 0; }
  .part { font-size: 9.5pt; line-height: 1.25; } .part h1 { font-size: 14pt; margin: 2mm 0 1mm; }
  .part h2 { font-size: 11pt; margin: 2mm 0 0; break-after: avoid; }
  .part p { margin: 0.8mm 0; } .part .note { font-size: 8.5pt; }
  .part table { margin: 1.5mm 0; font-size: 9pt; } .part th, .part td { padding: 0.3mm 1.5mm; }
  .entry .line { min-height: 5mm; } .part .signature { margin-top: 7mm; }
}
)css";

/// The blocks of one part, one after another.
class PageWriter {
public:
  explicit PageWriter(pugi::xml_node part) : part_(part) {}

  void operator()(const TextParagraph& paragraph) {
    const bool title = paragraph.style == TextStyle::title;
    pugi::xml_node node = add_element(part_,
                                      title                                   ? "h1"
                                      : paragraph.style == TextStyle::heading ? "h2"
                                                                              : "p",
                                      "", paragraph.style == TextStyle::note ? "note" : "");
    for (const TextRun& run : paragraph.runs)
      if (run.strong)
        add_element(node, "strong", run.text);
      else
        append_words(node, run.text);
  }

  void operator()(const TextEntry& entry) {
    pugi::xml_node node =
        add_element(part_, "p", "", entry.signature ? "entry signature" : "entry");
    add_element(node, "span", entry.name + ": ", "name");
    add_element(node, "span", entry.value, entry.value.empty() ? "line" : "");
  }

  void operator()(const TextGap& gap) {
    set(add_element(part_, "div"), "style", fmt::format("height: {:.1f}em", 1.4 * gap.lines));
  }

  void operator()(const TextTable& table) {
    pugi::xml_node node = add_table(part_, {"", table.heads, table.rows}, "words");
    pugi::xml_node columns = node.prepend_child("colgroup");
    for (const unsigned width : table.widths)
      set(columns.append_child("col"), "style", fmt::format("width: {}%", width));
  }

private:
  pugi::xml_node part_;
};

} // namespace

std::string document_page(const TextDocument& document) {
  HtmlPage page(document.title, document_style, "en-GB");
  pugi::xml_node body = add_element(page.body(), "main");
  for (const TextPart& part : document.parts) {
    PageWriter writer(add_element(body, "section", "", "part"));
    for (const TextBlock& block : part)
      std::visit(writer, block);
  }
  return page.text();
}

} // namespace eggfall
