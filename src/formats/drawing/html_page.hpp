#pragma once

#include <pugixml.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A self-contained HTML page: nothing is fetched, and no script runs but those of add_script().
/// Text is escaped by the library that holds the tree; markup comes from these functions alone.
class HtmlPage {
public:
  /// `style` is CSS that goes on where the style of all pages ends, and `language` a tag such as
  /// "en". @throws CalculationError for a style with
  /// <, > or &, which the library would escape.
  HtmlPage(std::string_view title, std::string_view style, std::string_view language = "en");

  pugi::xml_node body() const { return body_; }

  /// A script that runs when the body has been read, after those added before; it stands in the
  /// page as it is. @throws CalculationError if it holds "</script" (in small letters or capitals)
  /// or
  /// "<!--", at which a browser would not read on as one script.
  void add_script(std::string_view script);

  /// The page as a text; elements without content have an end tag where HTML asks for one.
  std::string text() const;

private:
  pugi::xml_document document_;
  pugi::xml_node body_;
  /// Apart from the tree, whose library would escape them.
  std::vector<std::string> scripts_;
};

/// More text in `parent`, after what is there; it is kept from steering the page
/// (without_controls()), as are all texts of these functions.
void append_words(pugi::xml_node parent, std::string_view text);

/// A new element, last in `parent`, with a class if that is not empty.
pugi::xml_node add_element(pugi::xml_node parent, const char* name, std::string_view text = "",
                           std::string_view css_class = "");

/// What a table is made of. Every row has as many cells as there are heads.
struct HtmlTable {
  std::string caption;
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>>
      rows; ///< The first cell of each names its row, if not empty.
  /// Stands above the heads, and again on every page of paper that the table goes on to.
  std::string running_head = {};
};

/// A table whose heads tell screen readers what they are of.
pugi::xml_node add_table(pugi::xml_node parent, const HtmlTable& table,
                         std::string_view css_class = "");

/// An element that scrolls sideways by itself where the page is too narrow for it, by keyboard too.
pugi::xml_node add_scrolling(pugi::xml_node parent, const char* name, std::string_view label);

/// A table in an element of its own that scrolls; one of many columns turns its rows into blocks on
/// a phone, each cell behind its head, unless its class says that it is there to "fill" in. Gives
/// the table.
pugi::xml_node add_wide_table(pugi::xml_node parent, const HtmlTable& table,
                              std::string_view css_class = "");

/// A picture that keeps its own colours and its white paper, as of what lies under a microscope: an
/// SVG document as svg_text() or drawn() give it, without a size of its own, which the page gives.
void add_svg(pugi::xml_node parent, std::string_view svg);

/// A drawing in inks (all_inks), which takes those of the page, light or dark. As add_svg()
/// otherwise.
void add_inked_svg(pugi::xml_node parent, std::string_view svg);

/// CSS for a page that is printed: every sheet of paper has `text` at its foot, and its number of
/// how many.
std::string paper_foot(std::string_view text);

} // namespace eggfall
