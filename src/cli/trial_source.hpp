#pragma once

#include "cli/input_file.hpp"
#include "cli/reading_options.hpp"

#include "base/content_digest.hpp"
#include "eggfall/survey/survey.hpp"
#include "eggfall/trial/trial.hpp"
#include "eggfall/trial/trial_stream.hpp"
#include "survey/surveyed_trials.hpp"

#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <vector>

namespace eggfall::cli {

/// Some trials, and how many bytes of the tables were read for them.
struct TrialBatch {
  std::vector<NumberedTrial> trials;
  std::size_t bytes = 0;
};

/// The trials of a shard, batch by batch, from tables of any length.
class TrialSource {
public:
  TrialSource(std::vector<std::string> tables, ReadingOptions options, Shard shard);

  /// Nothing at the end.
  /// @throws InputError for what a table has wrong, with all its problems or the first twenty. From
  ///   the first on no trial of it is given any more.
  std::optional<TrialBatch> next();

  const std::vector<SurveyTable>& tables_read() const { return tables_read_; } ///< To their ends.
  const SurveyedTrials& surveyed() const { return trials_; }
  const std::vector<std::string>& notes() const { return notes_; }

private:
  bool read_on();
  bool read_whole(const std::string& table);
  void start_stream();
  void end_table();
  void take(std::vector<Trial> trials);

  std::vector<std::string> tables_;
  ReadingOptions options_;
  ChosenLayout layout_;   ///< Beside the first table, or the one named.
  std::size_t table_ = 0; ///< The one that is read, or is next.
  ContentDigest digest_;  ///< Of its bytes so far.
  std::vector<SurveyTable> tables_read_;
  SurveyedTrials trials_;
  std::optional<InputFile> file_;
  std::optional<TrialStream> stream_;
  std::deque<NumberedTrial> waiting_;
  std::size_t bytes_ = 0;
  std::vector<std::string> notes_;
};

} // namespace eggfall::cli
