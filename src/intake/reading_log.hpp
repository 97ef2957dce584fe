#pragma once

#include "eggfall/base/error.hpp"

#include <utility>
#include <vector>

namespace eggfall {

/// What a table was taken for, line by line, as it is found out.
class ReadingLog {
public:
  /// A line that whoever judges the trial must see.
  void tell(Wording line) {
    told_.push_back(line);
    all_.push_back(std::move(line));
  }

  /// One for whoever wants to know it all.
  void add(Wording line) { all_.push_back(std::move(line)); }

  /// The lines of another log, behind these.
  void append(const ReadingLog& other) {
    told_.insert(told_.end(), other.told_.begin(), other.told_.end());
    all_.insert(all_.end(), other.all_.begin(), other.all_.end());
  }

  const std::vector<Wording>& told() const { return told_; }
  const std::vector<Wording>& all() const { return all_; } ///< The told ones too.

private:
  std::vector<Wording> told_;
  std::vector<Wording> all_;
};

} // namespace eggfall
