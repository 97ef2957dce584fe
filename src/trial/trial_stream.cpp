#include "eggfall/trial/trial_stream.hpp"

#include "base/text.hpp"
#include "formats/table_stream.hpp"
#include "trial/control_option.hpp"
#include "trial/header_cells.hpp"
#include "trial/sum_rows.hpp"
#include "trial/trial_builder.hpp"
#include "trial/trial_time.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

namespace eggfall {
namespace {

constexpr std::size_t most_rows_of_trial = 1'000'000;
constexpr std::size_t most_notes = 20;

} // namespace

class TrialStream::Reader {
public:
  Reader(Source source, ReadOptions options)
      : options_(std::move(options)), table_(std::move(source), "animal", problems_),
        control_(options_.control) {}

  std::vector<Trial> feed(std::string_view piece) {
    table_.feed(piece, take_);
    return std::exchange(complete_, {});
  }

  std::vector<Trial> finish() {
    table_.finish(take_);
    end_trial();
    if (columns_)
      tests_.check(*columns_, table_.source(), problems_);
    control_.check(problems_);
    problems_.throw_if_any();
    if (more_notes_)
      notes_.push_back(
          fmt::format("{}: and more groups with names so much alike", table_.source().shown()));
    if (auto note = tests_.note(table_.source()))
      notes_.push_back(std::move(*note));
    if (auto note = sums_.note(table_.source()))
      notes_.push_back(std::move(*note));
    if (auto note = header_->note())
      notes_.push_back(std::move(*note));
    return std::exchange(complete_, {});
  }

  const std::vector<std::string>& notes() const { return notes_; }

private:
  void add(const TableRow& table_row) {
    if (!header_) {
      header_.emplace(table_.header(), table_.source(), problems_);
      columns_.emplace(*header_, options_.needed);
      problems_.throw_if_any();
    }
    const RowCells row = header_->cells_of(table_row);
    if (sums_.takes(row, {columns_->group, columns_->animal}))
      return;
    const std::string_view name = TrialBuilder::name_of(row, *columns_, options_);
    const TestsOfTable::Place place = tests_.place_of(name, row, *columns_);
    if (!trial_ || test_ != place.test) {
      end_trial();
      start_trial(std::string(name), place, row);
    }
    if (++rows_ > most_rows_of_trial)
      problems_.give_up({table_.source(), row.line(), 0, columns_->trial.name,
                         fmt::format("more than {} rows of trial {}", most_rows_of_trial,
                                     in_quotes(trial_->name())),
                         "fewer rows a trial"});
    trial_->add(row);
    last_line_ = row.line();
  }

  void start_trial(std::string name, const TestsOfTable::Place& place, const RowCells& row) {
    if (!place.is_new)
      row.problem(columns_->trial, fmt::format("trial {} again", in_quotes(name)),
                  fmt::format("all rows of a trial together (those of this one ended on {}; "
                              "sort the table by trial)",
                              row.name_of_line(last_line_of_[place.test])));
    trial_.emplace(std::move(name), *columns_, options_);
    test_ = place.test;
    rows_ = 0;
  }

  void end_trial() {
    if (!trial_)
      return;
    if (test_ >= last_line_of_.size())
      last_line_of_.resize(test_ + 1);
    last_line_of_[test_] = last_line_;
    std::vector<std::string> notes;
    Trial trial = trial_->finish(table_.source(), problems_, notes);
    trial_.reset();
    control_.look_in(trial);
    for (std::string& note : notes)
      if (std::ranges::find(notes_, note) != notes_.end())
        continue;
      else if (notes_.size() < most_notes)
        notes_.push_back(std::move(note));
      else
        more_notes_ = true;
    if (!problems_.any())
      complete_.push_back(std::move(trial));
  }

  ReadOptions options_;
  Problems problems_;
  TableStream table_;
  TableBuilder::Take take_ = [this](TableRow&& row) { add(row); };
  std::optional<HeaderCells> header_;
  std::optional<TrialColumns> columns_;
  SumRows sums_;
  TestsOfTable tests_;
  std::optional<TrialBuilder> trial_; ///< Whose rows are coming.
  std::size_t test_ = 0;              ///< Which of `tests_` that is.
  std::size_t rows_ = 0;              ///< Of that trial.
  std::size_t last_line_ = 0;
  std::vector<std::size_t> last_line_of_; ///< Of each test that ended.
  ControlOption control_;
  std::vector<Trial> complete_;
  std::vector<std::string> notes_;
  bool more_notes_ = false;
};

TrialStream::TrialStream(Source source, ReadOptions options)
    : reader_(std::make_unique<Reader>(std::move(source), std::move(options))) {}
TrialStream::~TrialStream() = default;
TrialStream::TrialStream(TrialStream&&) noexcept = default;
TrialStream& TrialStream::operator=(TrialStream&&) noexcept = default;

std::vector<Trial> TrialStream::feed(std::string_view piece) {
  return reader_->feed(piece);
}

std::vector<Trial> TrialStream::finish() {
  return reader_->finish();
}

const std::vector<std::string>& TrialStream::notes() const {
  return reader_->notes();
}

} // namespace eggfall
