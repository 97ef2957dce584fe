#pragma once

#include "eggfall/trial/egg_count.hpp"
#include "intake/day_words.hpp"
#include "intake/table_words.hpp"

#include <array>
#include <compare>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {

/// A time of sampling.
enum class Occasion { before, after };

inline constexpr std::array all_occasions{Occasion::before, Occasion::after};

std::string_view to_string(Occasion occasion);

/// When a sample was taken.
struct SampleTime {
  Occasion occasion = Occasion::before;
  int day = 0; ///< After treatment, where it is of one of several visits; 0: the only sample.

  std::strong_ordering operator<=>(const SampleTime&) const = default;
};

/// "before", "after", or "day:28" of a visit, as names of columns end.
std::string to_string(const SampleTime& time);

/// What the numbers of a column of counts are.
enum class CountUnit {
  eggs, ///< Eggs seen under the microscope.
  epg,  ///< Eggs per gram.
};

std::string_view to_string(CountUnit unit);

/// What columns of counts are that differ in a number or a name alone, "post 1" and "post 2".
enum class SideBySide {
  repeats, ///< Counts of one sample.
  groups,  ///< Of groups of animals.
};

std::string_view to_string(SideBySide side_by_side);

/// What the owner of tables says of them where they leave it open: in options, or in a file kept
/// beside them (docs/data-format.md). A thing not said is found out from the table, or asked for.
struct Layout {
  /// Header in the table, by our own name of the column (those of the counts table, and "when" for
  /// the column that tells the times of a table with one row a sample).
  std::map<std::string, std::string, std::less<>> columns;
  /// What words in cells of counts mean, by look_of() the word.
  std::map<std::string, CellWord, std::less<>> cells;
  std::optional<DateOrder> dates;
  std::optional<CountUnit> counts; ///< For columns of counts that do not say.
  /// The day, date or word of the samples that count as before and after.
  std::optional<std::string> day_before;
  std::optional<std::string> day_after;
  /// Each count is the mean of so many counts of one sample, 2 to most_repeats.
  std::optional<unsigned> mean_of;
  std::optional<SideBySide> side_by_side;
  /// Groups that were treated, though their names say untreated.
  std::vector<std::string> treated;
  /// Of each sheet or table that holds the counts of one time alone, in the order given.
  std::vector<Occasion> occasions;

  // What a command line says of any table, for the next ones too.
  std::optional<double> factor;
  std::optional<double> factor_before;
  std::optional<double> factor_after;
  std::string host;
  std::string control;

  std::optional<TableWords> own_words; ///< The owner's, and behind them those that are known.

  /// The words to read by. (Reading those compiled in takes longer than most tables do, so none are
  /// asked for before they are needed.)
  const TableWords& words() const { return own_words ? *own_words : TableWords::known(); }
};

/// The names that Layout::columns may hold.
const std::vector<std::string_view>& layout_columns();

/// Whether its owner says what the column under this head is. (A head is known with what stands
/// above it too, which an owner may leave out.)
bool names_head(const Layout& layout, std::string_view head);

/// Adds "OURS=THEIRS", such as "animal=Ear tag".
/// @throws InputError for anything else, or a name that is not ours.
void add_column(Layout& layout, std::string_view text);

/// Adds "WORD=MEANING", such as "nd=none-seen".
/// @throws InputError for anything else; MEANING is none-seen or not-sampled.
void add_cell(Layout& layout, std::string_view text);

/// @throws InputError for a name of neither.
DateOrder parse_date_order(std::string_view text);
CountUnit parse_count_unit(std::string_view text);
Occasion parse_occasion(std::string_view text);
SideBySide parse_side_by_side(std::string_view text);

/// A layout from TOML, schema "eggfall.layout/1".
/// @throws InputError, with line and column, for what is none.
Layout read_layout(std::string_view toml, const std::string& source);

/// The same layout as TOML, without the owner's words, which only a file can hold.
std::string layout_toml(const Layout& layout);

/// What `said` says, and what `kept` says where that is silent.
Layout joined(Layout said, const Layout& kept);

} // namespace eggfall
