#include "cli/trial_source.hpp"

#include "cli/files.hpp"
#include "cli/option_name.hpp"
#include "cli/read_tables.hpp"

#include "base/user_text.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <utility>

namespace eggfall::cli {
namespace {

constexpr std::size_t piece_size = 1U << 16U;
constexpr std::size_t trials_a_batch = 8; ///< Some ten milliseconds of work.

} // namespace

TrialSource::TrialSource(std::vector<std::string> tables, ReadingOptions options, Shard shard)
    : tables_(std::move(tables)), options_(std::move(options)),
      layout_(chosen_layout(options_.layout, tables_)), trials_(shard, tables_.size() > 1) {}

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
    if (read_whole(tables_[table_]))
      return true;
    start_stream();
  }
  const std::string_view bytes = file_->read(piece_size);
  bytes_ += bytes.size();
  digest_.add(bytes);
  if (!bytes.empty()) {
    take(stream_->feed(bytes));
    return true;
  }
  take(stream_->finish());
  std::ranges::copy(stream_->notes(), std::back_inserter(notes_));
  stream_.reset();
  end_table();
  return true;
}

void TrialSource::start_stream() {
  const std::string& table = tables_[table_];
  file_.emplace(table);
  digest_ = {};
  stream_.emplace(Source(table == "-" ? "standard input" : table, options_.sheet),
                  read_options(options_, layout_.layout, table));
}

/// Only what a person may have kept.
bool TrialSource::read_whole(const std::string& table) {
  const auto size = size_of(table);
  if (!size || *size > largest_kept_by_hand)
    return false;
  digest_ = {};
  std::string bytes = read_file(table);
  bytes_ += bytes.size();
  digest_.add(bytes);
  UnderstoodTables understood =
      read_tables({TableFile{table, std::move(bytes)}}, options_, layout_);
  std::ranges::move(texts_of(understood.told, option_names), std::back_inserter(notes_));
  std::ranges::move(understood.table.notes, std::back_inserter(notes_));
  take(std::move(understood.table.trials));
  end_table();
  return true;
}

void TrialSource::end_table() {
  const std::string& table = tables_[table_++];
  const std::string name =
      table == "-" ? "standard input" : std::filesystem::path(table).filename();
  tables_read_.push_back({normalised(name), digest_.text()});
}

void TrialSource::take(std::vector<Trial> trials) {
  for (Trial& trial : trials)
    if (auto taken = trials_.take(std::move(trial), tables_[table_]))
      waiting_.push_back(std::move(*taken));
}

} // namespace eggfall::cli
