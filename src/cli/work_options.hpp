#pragma once

#include "eggfall/base/shard.hpp"

#include <tbb/global_control.h>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace eggfall::cli {

/// How much of a long piece of work to do, and on how many cores.
struct WorkOptions {
  std::size_t threads = 0; ///< 0: one a core.
  std::string shard = "1/1";
};

/// Adds --threads.
void add_threads_option(CLI::App& command, std::size_t& threads);

void add_work_options(CLI::App& command, WorkOptions& options);

/// Adds --merge, which excludes every option added before it: the parts say what was done.
void add_merge_option(CLI::App& command, std::vector<std::string>& parts);

/// @throws InputError for anything but I/N with 1 <= I <= N <= Shard::most.
Shard parse_shard(const std::string& text);

/// Holds the threads down to the number asked for, while it lives.
class ThreadLimit {
public:
  /// @param threads 0: one a core.
  explicit ThreadLimit(std::size_t threads);

private:
  std::optional<tbb::global_control> limit_;
};

} // namespace eggfall::cli
