#pragma once

#include <string>
#include <variant>
#include <vector>

// A text that people read, print and change, without a word on how it is written down:
// word_document() and document_page() do that.
namespace eggfall {

enum class TextStyle {
  title,   ///< Of a part: one each.
  heading, ///< Of what comes after it, with which it stays on one page.
  body,
  note, ///< Small print.
};

struct TextRun {
  std::string text;
  bool strong = false;
};

struct TextParagraph {
  TextStyle style = TextStyle::body;
  std::vector<TextRun> runs;
};

/// What is filled in by hand: a name and, where it is not known, a line to write on.
struct TextEntry {
  std::string name;
  std::string value = {};
  bool signature = false; ///< Has room above the line.
};

/// Room that is left free.
struct TextGap {
  unsigned lines = 1; ///< Of the body's text.
};

struct TextTable {
  std::vector<std::string> heads;
  /// Each as long as `heads`; the first cell names its row.
  std::vector<std::vector<std::string>> rows;
  std::vector<unsigned> widths; ///< Of the columns, in hundredths of the text's width: 100 in all.
};

using TextBlock = std::variant<TextParagraph, TextEntry, TextGap, TextTable>;

/// Starts on a page of its own.
using TextPart = std::vector<TextBlock>;

struct TextDocument {
  std::string title; ///< For the list of files and the head of a window; it stands in no part.
  std::vector<TextPart> parts;
};

} // namespace eggfall
