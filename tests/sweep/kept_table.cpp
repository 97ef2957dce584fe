#include "kept_table.hpp"

#include "support/made_ods.hpp"
#include "support/written_grid.hpp"
#include "trial/counts_table.hpp"

#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

using namespace eggfall;

namespace {

using Words = std::vector<std::string>;

/// A column of the counts table, under the head that it is kept under.
struct KeptColumn {
  std::string ours;
  std::string head;
  std::vector<std::string> cells; ///< As many as rows.
};

/// What farms and laboratories call our columns, but for those of counts.
const std::map<std::string, Words, std::less<>>& other_heads() {
  static const std::map<std::string, Words, std::less<>> heads{
      {"group", {"Group", "Mob", "Pen", "Treatment group"}},
      {"animal", {"Ear tag", "Animal ID", "Tag no.", "VISUAL TAG"}},
      {"role", {"Status", "Treated or control", "Group type"}},
      {"drench", {"Drench", "Product used", "Wormer"}},
      {"class", {"Drug class", "Drench class"}},
      {"host", {"Species", "Host species"}},
      {"worm", {"Worm type", "Parasite"}},
      {"farm", {"Farm", "Property"}},
      {"region", {"Region", "District"}},
      {"year", {"Year", "Trial year"}},
      {"animals_in_pool", {"Pool size", "Animals in pool"}},
      {"weight_kg", {"Weight (kg)", "Live weight kg"}},
      {"dose_ml", {"Dose (mL)", "Dose given ml"}},
      {"label_ml_per_kg", {"label_ml_per_kg"}},
      {"mg_per_ml", {"mg_per_ml"}},
      {"date_before", {"Date before", "Pre date", "Sampled before"}},
      {"date_treated", {"Date treated", "Treatment date", "Drenched on"}},
      {"date_after", {"Date after", "Post date", "Sampled after"}},
      {"days_after", {"Days after treatment", "Days since drenching", "Day after dosing"}},
  };
  return heads;
}

/// What the heads of counts say of their unit.
enum class Said { eggs, epg, nothing };

bool is_count(std::string_view ours) {
  return ours.starts_with("eggs_");
}
bool is_factor(std::string_view ours) {
  return ours.starts_with("factor_");
}

/// "before", "after" or "day:28", of a count or a factor.
std::string time_of(std::string_view ours) {
  return std::string(ours.substr(ours.find('_') + 1));
}

class TableKeeper {
public:
  TableKeeper(const Trial& trial, const std::string& host, Luck& luck) : luck_(luck) {
    const CountsCells cells = counts_cells({trial});
    for (std::size_t i = 0; i < cells.columns.size(); ++i) {
      columns_.push_back({cells.columns[i], cells.columns[i], {}});
      for (const auto& row : cells.rows)
        columns_.back().cells.push_back(row[i]);
    }
    kept_.options.trial_name = trial.name;
    kept_.options.host = host;
  }

  KeptTable keep() {
    learn_factors();
    const double form = luck_.uniform(0, 1);
    if (form < 0.15)
      write(grid_of(columns_), "our own form");
    else if (form < 0.35 || !can_be_renamed())
      keep_our_words();
    else if (form < 0.65 || !can_be_folded())
      keep_row_an_animal();
    else
      keep_row_a_sample();
    return std::move(kept_);
  }

private:
  // What the columns hold.

  std::size_t rows() const { return columns_.front().cells.size(); }

  const KeptColumn* column(std::string_view ours) const {
    const auto found = std::ranges::find(columns_, ours, &KeptColumn::ours);
    return found == columns_.end() ? nullptr : &*found;
  }

  std::string cell(std::string_view ours, std::size_t row) const {
    const KeptColumn* const found = column(ours);
    return found == nullptr ? std::string() : found->cells[row];
  }

  void learn_factors() {
    for (const KeptColumn& each : columns_)
      if (is_factor(each.ours))
        for (const std::string& text : each.cells)
          if (!text.empty())
            factors_.insert(text);
    factors_are_plain_ = std::ranges::all_of(factors_, [](const std::string& text) {
      const double hundredths = 100 * std::strtod(text.c_str(), nullptr);
      return hundredths >= 100 && hundredths == std::round(hundredths);
    });
  }

  bool has_visits() const {
    return std::ranges::any_of(
        columns_, [](const KeptColumn& each) { return each.ours.starts_with("eggs_day:"); });
  }

  bool has_a_usual_visit_alone() const {
    const auto days = std::ranges::count_if(
        columns_, [](const KeptColumn& each) { return each.ours.starts_with("eggs_day:"); });
    return days == 1 && column("eggs_day:14") != nullptr && column("eggs_after") == nullptr;
  }

  bool has_kinds() const {
    return std::ranges::any_of(columns_, [](const KeptColumn& each) {
      return is_count(each.ours) && time_of(each.ours).find(":n") != std::string::npos;
    });
  }

  /// Numbers of which all are multiples of their factor are read as EPG where heads do not say, and
  /// should be.
  bool eggs_look_like_epg() const {
    const double factor = factors_.empty() ? 1 : std::strtod(factors_.begin()->c_str(), nullptr);
    for (const KeptColumn& each : columns_)
      if (is_count(each.ours))
        for (const std::string& text : each.cells)
          if (std::fmod(std::strtod(text.c_str(), nullptr), factor) != 0)
            return false;
    return true;
  }

  /// Other words have no head for the factor of a visit.
  bool can_be_renamed() const {
    return !has_a_usual_visit_alone() && (factors_.size() <= 1 || !has_visits());
  }

  /// Nor is a visit on day 14 alone told from the sample of a usual test.
  bool can_be_folded() const {
    return !has_kinds() && !has_a_usual_visit_alone() &&
           !(has_visits() && column("eggs_after") != nullptr) &&
           !(has_visits() && column("date_after") != nullptr);
  }

  // Forms.

  void keep_our_words() {
    luck_.shuffle(columns_);
    write_mixed(grid_of(columns_), "our own words");
  }

  void keep_row_an_animal() {
    said_ = static_cast<Said>(luck_.below(factors_are_plain_ ? 3 : 1));
    if (said_ == Said::nothing && eggs_look_like_epg())
      said_ = Said::epg;
    in_epg_ = said_ == Said::epg || (said_ == Said::nothing && luck_.chance(0.5));
    if (said_ == Said::nothing)
      kept_.answers.push_back({"counts", in_epg_ ? "epg" : "eggs"});
    choose_dates();
    std::vector<KeptColumn> kept;
    Words pair = luck_.one_of(times());
    const KeptColumn* const days = column("days_after");
    const bool in_heads = days != nullptr && luck_.chance(0.5);
    if (in_heads)
      pair = {"day 0", "day " + days->cells.front()};
    for (const KeptColumn& each : columns_) {
      if (is_factor(each.ours) || (in_heads && &each == days))
        continue;
      kept.push_back(each);
      if (is_count(each.ours)) {
        kept.back().head = count_head(time_of(each.ours), pair);
        turn_to_epg(kept.back());
      } else {
        kept.back().head = luck_.one_of(other_heads().at(each.ours));
        write_dates(kept.back());
      }
    }
    add_factors(kept);
    luck_.shuffle(kept);
    Grid grid = grid_of(kept);
    const std::string form =
        fmt::format("one row an animal, {}{}", said_word(), days_first_ ? ", days first" : "");
    write_mixed(std::move(grid), form, luck_.chance(0.3));
  }

  void keep_row_a_sample() {
    said_ = factors_are_plain_ && luck_.chance(0.5) ? Said::epg : Said::eggs;
    in_epg_ = said_ == Said::epg;
    choose_dates();
    const KeptColumn* const days = column("days_after");
    const bool by_day =
        has_visits() || ((days != nullptr || column("date_after") != nullptr) && luck_.chance(0.5));
    const Words words = luck_.one_of(times());
    Words occasions;
    for (const KeptColumn& each : columns_)
      if (is_count(each.ours))
        occasions.push_back(time_of(each.ours));
    const bool dated = column("date_before") != nullptr || column("date_after") != nullptr;
    std::vector<KeptColumn> kept;
    for (const KeptColumn& each : columns_)
      if (!is_count(each.ours) && !is_factor(each.ours) && each.ours != "date_before" &&
          each.ours != "date_after" && !(by_day && &each == days))
        kept.push_back({each.ours, luck_.one_of(other_heads().at(each.ours)), {}});
    const std::size_t attributes = kept.size();
    kept.push_back({"when", by_day ? "Day" : "Sampling", {}});
    kept.push_back({"count", in_epg_ ? "EPG" : "Eggs seen", {}});
    kept.push_back({"factor", "Multiplication factor", {}});
    if (dated)
      kept.push_back({"date", luck_.one_of(Words{"Date", "Sampled on"}), {}});
    for (const std::string& occasion : occasions)
      for (std::size_t row = 0; row < rows(); ++row) {
        for (std::size_t i = 0; i < attributes; ++i)
          kept[i].cells.push_back(date_text(kept[i].ours, cell(kept[i].ours, row)));
        const bool before = occasion == "before";
        kept[attributes].cells.push_back(by_day   ? (before                ? "0"
                                                     : occasion == "after" ? "14"
                                                                           : occasion.substr(4))
                                         : before ? words[0]
                                                  : words[1]);
        const std::string factor = cell("factor_" + occasion, row);
        kept[attributes + 1].cells.push_back(epg_text(cell("eggs_" + occasion, row), factor));
        kept[attributes + 2].cells.push_back(factor);
        if (dated)
          kept[attributes + 3].cells.push_back(date_text("date_", cell("date_" + occasion, row)));
      }
    luck_.shuffle(kept);
    write_mixed(grid_of(kept),
                fmt::format("one row a sample, told by {}, {}{}", by_day ? "days" : "words",
                            said_word(), days_first_ ? ", days first" : ""));
  }

  // Heads.

  static const std::vector<Words>& times() {
    static const std::vector<Words> all{{"pre", "post"},
                                        {"Before", "After"},
                                        {"Pre-treatment", "Post-treatment"},
                                        {"pre-drench", "post-drench"}};
    return all;
  }

  std::string_view said_word() const {
    return said_ == Said::epg    ? "heads say EPG"
           : said_ == Said::eggs ? "heads say eggs"
           : in_epg_             ? "heads do not say EPG"
                                 : "heads do not say eggs";
  }

  /// "EPG pre", "Eggs day 28", "Nematodirus FEC after".
  std::string count_head(const std::string& time, const Words& pair) {
    const std::string unit = said_ == Said::epg ? "EPG" : said_ == Said::eggs ? "Eggs seen" : "FEC";
    if (time.starts_with("day:"))
      return fmt::format("{} day {}", unit, time.substr(4));
    const std::size_t colon = time.find(':');
    const std::string kind = colon == std::string::npos ? "" : time.substr(colon + 1) + " ";
    return fmt::format("{}{} {}", kind, unit, pair[time.starts_with("before") ? 0 : 1]);
  }

  // Cells.

  void choose_dates() {
    days_first_ =
        luck_.chance(0.3) && (column("date_before") != nullptr ||
                              column("date_treated") != nullptr || column("date_after") != nullptr);
    if (days_first_)
      kept_.answers.push_back({"dates", "day-first"});
  }

  /// 2031-05-03 as 3/5/2031 where days come first.
  std::string date_text(std::string_view ours, const std::string& iso) const {
    if (!days_first_ || !ours.starts_with("date_") || iso.empty())
      return iso;
    return fmt::format("{}/{}/{}", std::stoi(iso.substr(8, 2)), std::stoi(iso.substr(5, 2)),
                       iso.substr(0, 4));
  }

  void write_dates(KeptColumn& kept) const {
    for (std::string& text : kept.cells)
      text = date_text(kept.ours, text);
  }

  std::string epg_text(const std::string& eggs, const std::string& factor) const {
    if (!in_epg_ || eggs.empty())
      return eggs;
    const double epg = std::strtod(eggs.c_str(), nullptr) * std::strtod(factor.c_str(), nullptr);
    return fmt::format("{}", std::round(100 * epg) / 100);
  }

  void turn_to_epg(KeptColumn& kept) const {
    const std::string time = time_of(kept.ours);
    const std::string base = time.starts_with("day:") ? time : time.substr(0, time.find(':'));
    for (std::size_t row = 0; row < kept.cells.size(); ++row)
      kept.cells[row] = epg_text(kept.cells[row], cell("factor_" + base, row));
  }

  /// In an option or one column if all are alike, or else one for each time.
  void add_factors(std::vector<KeptColumn>& kept) {
    if (factors_.size() == 1) {
      const std::string& factor = *factors_.begin();
      if (luck_.chance(0.5))
        kept_.options.factor_before = kept_.options.factor_after =
            MultiplicationFactor(std::strtod(factor.c_str(), nullptr));
      else
        kept.push_back(
            {"factor", "Multiplication factor", std::vector<std::string>(rows(), factor)});
      return;
    }
    for (const std::string time : {"before", "after"})
      if (const KeptColumn* const found = column("factor_" + time)) {
        kept.push_back(*found);
        kept.back().head = "Factor " + time;
      }
  }

  // Files.

  static Grid grid_of(const std::vector<KeptColumn>& columns) {
    Grid grid(1 + columns.front().cells.size());
    for (const KeptColumn& each : columns) {
      grid[0].push_back(each.head);
      for (std::size_t i = 0; i < each.cells.size(); ++i)
        grid[i + 1].push_back(each.cells[i]);
    }
    return grid;
  }

  /// In this order of rows or another, with a title above or none.
  void write_mixed(Grid grid, const std::string& form, bool titled = false) {
    if (luck_.chance(0.5)) {
      kept_.in_order = false;
      Grid below(grid.begin() + 1, grid.end());
      luck_.shuffle(below);
      std::ranges::move(below, grid.begin() + 1);
    }
    if (titled) {
      Row title(grid[0].size());
      title[0] = "Drench check, spring lambs";
      grid.insert(grid.begin(), {title, Row(grid[1].size())});
    }
    write(grid, form);
  }

  void write(const Grid& grid, const std::string& form) {
    if (luck_.chance(0.03)) { // the slowest to read
      kept_.form = form + ", .ods";
      kept_.tables.push_back(
          {zip_of(parts_of_ods(ods_table(grid, "Counts"))), "lambs.ods", "lambs"});
      return;
    }
    const char separator = luck_.one_of(std::string(",;\t"));
    std::string text = csv_of(grid, separator);
    if (separator == ';' && luck_.chance(0.3) && !has_three_decimals(grid))
      text = with_decimal_commas(grid);
    if (luck_.chance(0.3))
      text = with_line_ends(text, "\r\n");
    static const Words encodings{"UTF-8", "UTF-8 with its mark", "UTF-16", "Windows-1252"};
    const unsigned encoding = luck_.below(encodings.size());
    kept_.in_utf_8 = encoding < 2;
    kept_.form = fmt::format("{}, separator {:?}, {}", form, separator, encodings[encoding]);
    kept_.tables.push_back({encoding == 1   ? "\xEF\xBB\xBF" + text
                            : encoding == 2 ? in_utf_16(text)
                            : encoding == 3 ? in_windows_1252(text)
                                            : text,
                            "lambs.csv", "lambs"});
  }

  /// With a comma that would be thousands, or might be.
  static bool has_three_decimals(const Grid& grid) {
    for (const Row& row : grid)
      for (const std::string& text : row)
        if (const std::size_t point = text.find('.');
            point != std::string::npos && text.size() == point + 4)
          return true;
    return false;
  }

  static std::string with_decimal_commas(Grid grid) {
    for (std::size_t row = 1; row < grid.size(); ++row)
      for (std::string& text : grid[row])
        if (text.find_first_not_of("0123456789.") == std::string::npos)
          std::ranges::replace(text, '.', ',');
    return csv_of(grid, ';');
  }

  static std::string with_line_ends(const std::string& text, const std::string& end) {
    std::string made;
    for (const char c : text)
      if (c == '\n')
        made += end;
      else
        made += c;
    return made;
  }

  Luck& luck_;
  std::vector<KeptColumn> columns_;
  std::set<std::string> factors_;
  bool factors_are_plain_ = false;
  Said said_ = Said::eggs;
  bool in_epg_ = false;
  bool days_first_ = false;
  KeptTable kept_;
};

} // namespace

KeptTable kept_table(const Trial& trial, const std::string& host, Luck& luck) {
  return TableKeeper(trial, host, luck).keep();
}
