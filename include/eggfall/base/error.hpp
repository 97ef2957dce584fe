#pragma once

#include "eggfall/base/source.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace eggfall {

/// What a message may send its reader to: a setting, or a tool beside the table. Whoever shows the
/// message has an own name for it: a command line an option, a page a field.
enum class Setting {
  bench_calculator, ///< Works out a multiplication factor from the figures of the bench.
  breakdown,        ///< Fields by which a survey is broken down.
  cell,
  column,
  control,
  counts,
  criteria,
  cut_offs, ///< A file of the user's own.
  dates,
  day_after,
  day_before,
  factor,
  factor_after,
  factor_before,
  host,
  larvae, ///< The table of cultures.
  mean_of,
  occasions,
  sheet,
  side_by_side,
  treated,
  units_confirmed,
};

/// In the order of their values.
inline constexpr std::array all_settings{Setting::bench_calculator,
                                         Setting::breakdown,
                                         Setting::cell,
                                         Setting::column,
                                         Setting::control,
                                         Setting::counts,
                                         Setting::criteria,
                                         Setting::cut_offs,
                                         Setting::dates,
                                         Setting::day_after,
                                         Setting::day_before,
                                         Setting::factor,
                                         Setting::factor_after,
                                         Setting::factor_before,
                                         Setting::host,
                                         Setting::larvae,
                                         Setting::mean_of,
                                         Setting::occasions,
                                         Setting::sheet,
                                         Setting::side_by_side,
                                         Setting::treated,
                                         Setting::units_confirmed};

/// Its key in a file of a layout, where it has one, and else its name in C++: "day-before",
/// "units-confirmed".
std::string_view to_string(Setting setting);
std::optional<Setting> parse_setting(std::string_view key);

/// A setting where it stands in a sentence, with the value to give it if there is one.
struct Mention {
  Setting setting = Setting::column;
  std::string value = {};
};

/// What settings are called by whoever shows a message.
struct SettingNames {
  std::string_view between;                           ///< Settings that are given together.
  std::string (*in_sentence)(const Mention& mention); ///< "the setting control white".
  std::string (*as_place)(Setting setting);           ///< Before a colon: "control".
};

/// Those of the library: "the setting control white".
extern const SettingNames library_names;

/// A text that may mention settings, whose names are put in when it is shown.
class Wording {
public:
  Wording() = default;
  Wording(std::string text); // NOLINT(google-explicit-constructor): a text is a wording
  Wording(const char* text); // NOLINT(google-explicit-constructor)
  Wording(Mention mention);  // NOLINT(google-explicit-constructor)
  explicit Wording(std::vector<Mention> together);

  Wording& operator+=(Wording more);

  std::string in(const SettingNames& names) const;
  /// In the library's names.
  std::string text() const { return in(library_names); }
  bool mentions_setting() const;

private:
  std::vector<std::variant<std::string, std::vector<Mention>>> pieces_; ///< Not empty ones.
};

Wording operator+(Wording text, Wording more);

std::vector<std::string> texts_of(const std::vector<Wording>& lines,
                                  const SettingNames& names = library_names);

/// From the least to the most that a value may be.
struct ValueRange {
  double least;
  double most;

  constexpr bool hold(double value) const { return value >= least && value <= most; }
};

/// One thing wrong with an input, told so that its owner can mend it.
struct Problem {
  Source source;           ///< Where the value came from.
  std::size_t line = 0;    ///< 1-based line, or row of a sheet; 0 when the whole source is meant.
  std::size_t column = 0;  ///< 1-based column; 0 when the whole line is meant.
  std::string column_name; ///< Header of that column, if there is one.
  std::string found;       ///< The offending text, quoted or described.
  Wording expected;        ///< What would have been accepted.
  /// Where the value came from, if it was a setting and no table; then there is no source.
  std::optional<Setting> setting = {};

  /// "source:line: column N (name): found ...; expected ...", or, in a sheet,
  /// "source, sheet "Counts", C7 (name): found ...; expected ...".
  std::string message(const SettingNames& names = library_names) const;
};

/// Input or options that the user can mend. The program exits with code 2.
class InputError : public std::runtime_error {
public:
  explicit InputError(const std::string& message) : std::runtime_error(message) {}
  /// `what()` holds one line a problem.
  explicit InputError(std::vector<Problem> problems);
  const std::vector<Problem>& problems() const noexcept { return problems_; }
  /// what() with other names of settings.
  std::string message(const SettingNames& names) const;

private:
  std::vector<Problem> problems_;
};

/// @throws InputError of a setting's value.
[[noreturn]] void refuse_setting(Setting setting, std::string found, Wording expected);

/// A calculation that failed on acceptable input. The program exits with code 1.
class CalculationError : public std::runtime_error {
public:
  explicit CalculationError(const std::string& message) : std::runtime_error(message) {}
};

} // namespace eggfall
