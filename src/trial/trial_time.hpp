#pragma once

#include "base/problems.hpp"
#include "eggfall/base/source.hpp"
#include "eggfall/trial/trial.hpp"
#include "trial/header_cells.hpp"
#include "trial/trial_columns.hpp"

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// A farm tests again in another year, and its trial is called by the same name: what tells the two
// tests apart is when they were done.
namespace eggfall {

/// When a test was done, as far as a table tells.
struct TestTime {
  std::optional<int> year;                  ///< Given as such.
  std::optional<std::chrono::sys_days> day; ///< Of treatment, or else of a sample.

  bool is_told() const { return year || day; }
};

/// Days of one test lie closer together than this: a test takes some weeks, and whoever tests in
/// spring and in autumn waits longer (practice).
inline constexpr std::chrono::days longest_test{120};

/// Whether rows of these two times may be of one test. Years that are given must be the same, days
/// closer together than longest_test; a year agrees with a day in it. What is not told agrees with
/// anything.
bool may_be_one_test(const TestTime& a, const TestTime& b);

/// That of a row. Cells that cannot be read tell nothing: whoever reads the row says what is wrong
/// with them.
TestTime time_of(const RowCells& row, const TrialColumns& columns);

/// That of a trial: the year of the first group that has one, and the first treatment or else the
/// first sample.
TestTime time_of(const Trial& trial);

/// Which test each row of a table is of, by the name of its trial and by its time.
class TestsOfTable {
public:
  struct Place {
    std::size_t test; ///< From 0, in the order of their first rows.
    bool is_new;
  };

  /// A row without a time is of the test that the last row of its name was of.
  Place place_of(std::string_view trial, const RowCells& row, const TrialColumns& columns);

  /// Adds what is wrong where one name stands for several tests: a row that does not tell which of
  /// them it is of; one animal alone in its year, which may well be a slip of the pen.
  void check(const TrialColumns& columns, const Source& source, Problems& problems) const;

  /// "t.csv: 12 trials are of several tests each, told apart by year or date: Hill of 2030 and
  /// 2031, ..."; nothing if no name stands for several.
  std::optional<std::string> note(const Source& source) const;

private:
  struct Test {
    std::size_t number;
    TestTime time;
    std::size_t rows = 0;
    std::uint64_t animals = 0; ///< A pool's counted one by one.
    std::size_t first_line = 0;
  };
  struct Named {
    std::vector<Test> tests;
    std::size_t last = 0;              ///< Of `tests`.
    std::size_t line_without_time = 0; ///< 0: none.
  };

  std::map<std::string, Named, std::less<>> by_name_;
  std::size_t tests_ = 0;
};

/// "2031", or "3 May 2031" where the year alone does not tell, or nothing: as in the name of a test
/// among others of its trial.
std::string in_words(const TestTime& time);

/// Gives trials that share a name names of their own, by their years ("Hill, 2031") or, where two
/// are of one year, by their days ("Hill, 2031-05-03").
void name_apart(std::vector<Trial>& trials);

/// What tells a trial from others of its name in other tables: its name and its time. Two trials
/// without a time have the same.
std::string identity_of(const Trial& trial);

} // namespace eggfall
