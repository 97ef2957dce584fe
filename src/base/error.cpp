#include "eggfall/base/error.hpp"

#include "base/cell_reference.hpp"
#include "base/enum_names.hpp"
#include "base/problems.hpp"
#include "base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

constexpr Names<Setting, all_settings.size()> setting_keys{{
    {Setting::bench_calculator, "bench-calculator"},
    {Setting::breakdown, "breakdown"},
    {Setting::cell, "cell"},
    {Setting::column, "column"},
    {Setting::control, "control"},
    {Setting::counts, "counts"},
    {Setting::criteria, "criteria"},
    {Setting::cut_offs, "cut-offs"},
    {Setting::dates, "dates"},
    {Setting::day_after, "day-after"},
    {Setting::day_before, "day-before"},
    {Setting::factor, "factor"},
    {Setting::factor_after, "factor-after"},
    {Setting::factor_before, "factor-before"},
    {Setting::host, "host"},
    {Setting::larvae, "larvae"},
    {Setting::mean_of, "mean-of"},
    {Setting::occasions, "occasions"},
    {Setting::sheet, "sheet"},
    {Setting::side_by_side, "side-by-side"},
    {Setting::treated, "treated"},
    {Setting::units_confirmed, "units-confirmed"},
}};

std::string in_library_words(const Mention& mention) {
  if (mention.setting == Setting::bench_calculator)
    return "the bench calculator";
  std::string named = fmt::format("the setting {}", to_string(mention.setting));
  if (mention.value.empty())
    return named;
  // A value of several words is held together, and its quotes with it.
  const bool plain = mention.value.find_first_of(" \"'") == std::string::npos;
  return named + ' ' + (plain ? mention.value : in_quotes(mention.value));
}

std::string as_place_in_library(Setting setting) {
  return std::string(to_string(setting));
}

/// Whether one cause may be behind both: the same is expected in other rows of one column.
bool are_alike(const Problem& a, const Problem& b) {
  return a.line > 0 && b.line > 0 && a.column == b.column && a.column_name == b.column_name &&
         a.source == b.source && a.expected.text() == b.expected.text();
}

/// Where one that is told already is found again: "line 3", or "line 3 (\"2,5\")".
std::string found_again(const Problem& first, const Problem& again) {
  std::string text = again.source.line(again.line);
  if (again.found != first.found)
    text += fmt::format(" ({})", again.found);
  return text;
}

/// A line a problem, and one alone for several in a column with one cause.
std::string join_messages(const std::vector<Problem>& problems, const SettingNames& names) {
  constexpr std::size_t few = 2; // are told each by itself
  std::string text;
  std::vector<bool> told(problems.size(), false);
  for (std::size_t i = 0; i < problems.size(); ++i) {
    if (told[i])
      continue;
    const Problem& problem = problems[i];
    std::vector<std::string> again;
    std::vector<std::size_t> alike;
    for (std::size_t j = i + 1; j < problems.size(); ++j)
      if (!told[j] && are_alike(problem, problems[j]))
        alike.push_back(j);
    if (alike.size() >= few)
      for (const std::size_t j : alike) {
        again.push_back(found_again(problem, problems[j]));
        told[j] = true;
      }
    if (!text.empty())
      text += '\n';
    text += problem.message(names);
    if (!again.empty())
      text += fmt::format("; so too {}", fmt::join(again, ", "));
  }
  if (problems.size() == Problems::most)
    text += fmt::format("\nThese are the first {}: more may follow when they are mended.",
                        Problems::most);
  return text;
}

std::string place_in_sheet(const Problem& problem) {
  std::string text = problem.source.shown();
  if (problem.line > 0)
    text += ", " + (problem.column > 0 ? to_string(CellReference{problem.line, problem.column})
                                       : problem.source.line(problem.line));
  if (!problem.column_name.empty())
    text += fmt::format(" ({})", problem.column_name);
  return text;
}

std::string place_in_text(const Problem& problem) {
  std::string text = problem.source.shown();
  if (problem.line > 0)
    text += fmt::format(":{}", problem.line);
  if (problem.column > 0)
    text += fmt::format(": column {}", problem.column);
  if (!problem.column_name.empty())
    text += problem.column > 0 ? fmt::format(" ({})", problem.column_name)
                               : fmt::format(": {}", problem.column_name);
  return text;
}

} // namespace

constexpr SettingNames library_names{" and ", in_library_words, as_place_in_library};

std::string_view to_string(Setting setting) {
  return name_of(setting_keys, setting, "a setting");
}

std::optional<Setting> parse_setting(std::string_view key) {
  return value_named(setting_keys, key);
}

Wording::Wording(std::string text) {
  if (!text.empty())
    pieces_.emplace_back(std::move(text));
}

Wording::Wording(const char* text) : Wording(std::string(text)) {}

Wording::Wording(Mention mention) : Wording(std::vector<Mention>{std::move(mention)}) {}

Wording::Wording(std::vector<Mention> together) {
  if (!together.empty())
    pieces_.emplace_back(std::move(together));
}

Wording& Wording::operator+=(Wording more) {
  for (auto& piece : more.pieces_)
    pieces_.push_back(std::move(piece));
  return *this;
}

Wording operator+(Wording text, Wording more) {
  text += std::move(more);
  return text;
}

std::string Wording::in(const SettingNames& names) const {
  std::string text;
  for (const auto& piece : pieces_) {
    if (const auto* const words = std::get_if<std::string>(&piece)) {
      text += *words;
      continue;
    }
    const auto& together = std::get<std::vector<Mention>>(piece);
    for (const Mention& mention : together) {
      if (&mention != &together.front())
        text += names.between;
      text += names.in_sentence(mention);
    }
  }
  return text;
}

std::vector<std::string> texts_of(const std::vector<Wording>& lines, const SettingNames& names) {
  std::vector<std::string> texts;
  for (const Wording& line : lines)
    texts.push_back(line.in(names));
  return texts;
}

bool Wording::mentions_setting() const {
  return std::ranges::any_of(pieces_, [](const auto& piece) {
    return std::holds_alternative<std::vector<Mention>>(piece);
  });
}

std::string Problem::message(const SettingNames& names) const {
  const std::string place = setting             ? names.as_place(*setting)
                            : source.is_sheet() ? place_in_sheet(*this)
                                                : place_in_text(*this);
  return fmt::format("{}: found {}; expected {}", place, found, expected.in(names));
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(join_messages(problems, library_names)), problems_(std::move(problems)) {}

std::string InputError::message(const SettingNames& names) const {
  return problems_.empty() ? what() : join_messages(problems_, names);
}

void refuse_setting(Setting setting, std::string found, Wording expected) {
  throw InputError({Problem{{}, 0, 0, {}, std::move(found), std::move(expected), setting}});
}

} // namespace eggfall
