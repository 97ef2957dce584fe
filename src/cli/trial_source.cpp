#include "cli/trial_source.hpp"

#include "base/user_text.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <utility>

namespace eggfall::cli {
namespace {

constexpr std::size_t piece = 1U << 16U;
constexpr std::size_t trials_a_batch = 8; ///< Some ten milliseconds of work.

} // namespace

TrialSource::TrialSource(std::vector<std::string> tables, ReadingOptions options, Shard shard)
    : tables_(std::move(tables)), options_(std::move(options)), shard_(shard) {}

std::optional<TrialBatch> TrialSource::next() {
  while (waiting_.size() < trials_a_batch && read_on()) {
  }
  if (waiting_.empty())
    return std::nullopt;
  TrialBatch batch;
  while (!waiting_.empty() && batch.trials.size() < trials_a_batch) {
    batch.trials.push_back(std::move(waiting_.front()));
    waiting_.pop_front();
  }
  batch.bytes = std::exchange(bytes_, 0);
  return batch;
}

/// False at the end of the last table.
bool TrialSource::read_on() {
  if (!stream_) {
    if (table_ == tables_.size())
      return false;
    const std::string& table = tables_[table_];
    file_.emplace(table);
    digest_ = {};
    stream_.emplace(Source(table == "-" ? "standard input" : table, options_.sheet),
                    read_options(options_, table));
  }
  const std::string_view bytes = file_->read(piece);
  bytes_ += bytes.size();
  digest_.add(bytes);
  if (!bytes.empty()) {
    take(stream_->feed(bytes));
    return true;
  }
  take(stream_->finish());
  std::ranges::copy(stream_->notes(), std::back_inserter(notes_));
  stream_.reset();
  const std::string& table = tables_[table_++];
  const std::string name =
      table == "-" ? "standard input" : std::filesystem::path(table).filename();
  tables_read_.push_back({normalised(name), digest_.text()});
  return true;
}

void TrialSource::take(std::vector<Trial> trials) {
  for (Trial& trial : trials) {
    if (tables_.size() > 1 && !names_.insert(trial.name).second)
      refuse_trial_again(tables_[table_], trial.name);
    add(in_tables_, trial);
    const std::uint64_t number = in_tables_.trials;
    if (!takes(shard_, number))
      continue;
    add(taken_, trial);
    waiting_.push_back({number, std::move(trial)});
  }
}

} // namespace eggfall::cli
