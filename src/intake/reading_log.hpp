#pragma once

#include <string>
#include <utility>
#include <vector>

namespace eggfall {

/// What a table was taken for, line by line, as it is found out.
class ReadingLog {
public:
  /// A line that whoever judges the trial must see.
  void tell(std::string line) {
    told_.push_back(line);
    all_.push_back(std::move(line));
  }

  /// One for whoever wants to know it all.
  void add(std::string line) { all_.push_back(std::move(line)); }

  /// The lines of another log, behind these.
  void append(const ReadingLog& other) {
    told_.insert(told_.end(), other.told_.begin(), other.told_.end());
    all_.insert(all_.end(), other.all_.begin(), other.all_.end());
  }

  const std::vector<std::string>& told() const { return told_; }
  const std::vector<std::string>& all() const { return all_; } ///< The told ones too.

private:
  std::vector<std::string> told_;
  std::vector<std::string> all_;
};

} // namespace eggfall
