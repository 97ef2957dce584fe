#pragma once

#include <pugixml.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// A formula as it is written on a board: what is divided stands above the line. Browsers draw it
/// without a script (MathML); others show or read out what line() says.
class Formula {
public:
  /// Words, numbers and the signs = + \u2212 \u00d7 ( ), set apart by spaces.
  Formula(std::string_view text);
  Formula(const char* text) : Formula(std::string_view(text)) {}

  static Formula fraction(Formula above, Formula below);
  static Formula root(Formula argument);
  static Formula square(Formula argument);

  /// One after the other.
  friend Formula operator+(Formula left, Formula right);

  /// The same in one line of text, with brackets where the drawing needs none.
  std::string line() const;

  /// What is drawn, last in `parent`.
  void draw(pugi::xml_node parent) const;

private:
  enum class Kind { words, number, sign, row, fraction, root, square };

  Formula(Kind kind, std::string text, std::vector<Formula> parts);

  std::string in_brackets() const; ///< line(), in brackets if it is more than one thing.

  Kind kind_ = Kind::row;
  std::string text_;
  std::vector<Formula> parts_;
};

/// A "math" element, last in `parent`.
pugi::xml_node add_formula(pugi::xml_node parent, const Formula& formula);

/// A numbered step of a list of class "steps": a name, the formula it is worked out by, and blanks
/// to write in, each after some words.
void add_formula_step(pugi::xml_node steps, std::string_view name, const Formula& formula,
                      const std::vector<std::string>& blanks);

} // namespace eggfall
