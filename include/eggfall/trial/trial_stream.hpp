#pragma once

#include "eggfall/trial/read_trials.hpp"
#include "eggfall/trial/trial.hpp"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

/// Turns a counts table (docs/data-format.md) that comes piece by piece into trials, so that a
/// table of any length needs the memory of one trial, and of the trials' names (a workbook cannot
/// be read before its end, and is held whole: at most 64 MiB of it).
///
/// The rows of a trial stand together, at most 1,000,000 of them; a trial whose name comes back
/// after another is a problem, unless it is of another year, or of days months apart. Without a
/// trial column, or with an empty cell, the name is ReadOptions::trial_name. Everything else is as
/// in read_trials(), but for the table's length, which has no limit, and ReadOptions::control,
/// which is looked for in all trials before finish() calls it unknown. After an exception the
/// stream is spent.
class TrialStream {
public:
  /// `source` names the table in messages, and the sheet wanted of a workbook.
  TrialStream(Source source, ReadOptions options);
  ~TrialStream();
  TrialStream(const TrialStream&) = delete;
  TrialStream& operator=(const TrialStream&) = delete;
  TrialStream(TrialStream&&) noexcept;
  TrialStream& operator=(TrialStream&&) noexcept;

  /// Trials that are complete after this piece, in order. Pieces may end anywhere, in the middle of
  /// a line or a character. Once there is a problem, no trial is returned any more.
  ///
  /// @throws InputError, with all problems found so far, at the 20th of them, or at one
  ///   beyond which nothing can be read (such as a byte that is not UTF-8, or a missing column).
  std::vector<Trial> feed(std::string_view piece);

  /// The last trial.
  ///
  /// @throws InputError, with up to 20 problems, if there was any.
  std::vector<Trial> finish();

  /// What was understood loosely; whole after finish().
  const std::vector<std::string>& notes() const;

private:
  class Reader;
  std::unique_ptr<Reader> reader_;
};

} // namespace eggfall
