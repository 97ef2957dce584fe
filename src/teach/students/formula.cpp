#include "teach/students/formula.hpp"

#include "base/text.hpp"
#include "formats/drawing/paper_form.hpp"
#include "formats/drawing/svg_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace eggfall {
namespace {

constexpr std::array<std::string_view, 6> formula_signs{"=", "+", "\u2212", "\u00d7", "(", ")"};

bool is_formula_sign(std::string_view piece) {
  return std::ranges::find(formula_signs, piece) != formula_signs.end();
}

/// "12", "0.05", "93.0%", "-4.1%"
bool is_written_number(std::string_view piece) {
  return !piece.empty() && piece.find_first_not_of("-0123456789.%e") == std::string_view::npos &&
         piece.find_first_of("0123456789") != std::string_view::npos;
}

} // namespace

Formula::Formula(Kind kind, std::string text, std::vector<Formula> parts)
    : kind_(kind), text_(std::move(text)), parts_(std::move(parts)) {}

Formula::Formula(std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    const std::string piece(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (piece.empty())
      continue;
    if (is_formula_sign(piece))
      parts_.push_back(Formula(Kind::sign, piece, {}));
    else if (is_written_number(piece))
      parts_.push_back(Formula(Kind::number, piece, {}));
    else if (!parts_.empty() && parts_.back().kind_ == Kind::words)
      parts_.back().text_ += " " + piece; // words that belong together are one thing
    else
      parts_.push_back(Formula(Kind::words, piece, {}));
  }
}

Formula Formula::fraction(Formula above, Formula below) {
  return {Kind::fraction, "", {std::move(above), std::move(below)}};
}

Formula Formula::root(Formula argument) {
  return {Kind::root, "", {std::move(argument)}};
}

Formula Formula::square(Formula argument) {
  return {Kind::square, "", {std::move(argument)}};
}

Formula operator+(Formula left, Formula right) {
  Formula both("");
  for (Formula* part : {&left, &right})
    if (part->kind_ == Formula::Kind::row)
      both.parts_.insert(both.parts_.end(), part->parts_.begin(), part->parts_.end());
    else
      both.parts_.push_back(std::move(*part));
  return both;
}

std::string Formula::in_brackets() const {
  const bool bracketed =
      !parts_.empty() && parts_.front().text_ == "(" && parts_.back().text_ == ")";
  const bool one_thing =
      kind_ == Kind::row ? parts_.size() == 1 || bracketed : kind_ != Kind::fraction;
  return one_thing ? line() : "(" + line() + ")";
}

std::string Formula::line() const {
  switch (kind_) {
  case Kind::fraction:
    return parts_[0].in_brackets() + " / " + parts_[1].in_brackets();
  case Kind::root:
    return "root of " + parts_[0].in_brackets();
  case Kind::square:
    return parts_[0].in_brackets() + " squared";
  case Kind::row: {
    std::string all;
    for (const Formula& part : parts_) {
      const bool apart = !all.empty() && !all.ends_with('(') && part.text_ != ")";
      all += (apart ? " " : "") + part.line();
    }
    return all;
  }
  default:
    return text_;
  }
}

void Formula::draw(pugi::xml_node parent) const {
  switch (kind_) {
  case Kind::words:
    add_element(parent, "mtext", text_);
    return;
  case Kind::number:
    add_element(parent, "mn", text_);
    return;
  case Kind::sign:
    add_element(parent, "mo", text_);
    return;
  default:
    break;
  }
  pugi::xml_node node = parent.append_child(kind_ == Kind::row        ? "mrow"
                                            : kind_ == Kind::fraction ? "mfrac"
                                            : kind_ == Kind::root     ? "msqrt"
                                                                      : "msup");
  for (const Formula& part : parts_)
    part.draw(node);
  if (kind_ == Kind::square)
    add_element(node, "mn", "2");
}

pugi::xml_node add_formula(pugi::xml_node parent, const Formula& formula) {
  pugi::xml_node math = parent.append_child("math");
  set(math, "aria-label", formula.line());
  set(math, "style", "math-style: normal"); // so that what is divided is as large as all else
  formula.draw(math);
  return math;
}

void add_formula_step(pugi::xml_node steps, std::string_view name, const Formula& formula,
                      const std::vector<std::string>& blanks) {
  add_step(steps, fmt::format("{} = ", name), blanks);
  pugi::xml_node step = steps.last_child();
  step.insert_move_after(add_formula(step, formula), step.first_child());
}

} // namespace eggfall
