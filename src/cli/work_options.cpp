#include "cli/work_options.hpp"

#include "cli/help.hpp"
#include "cli/values.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

namespace eggfall::cli {

void add_threads_option(CLI::App& command, std::size_t& threads) {
  command.add_option("--threads", threads, "Threads; 0: one a core")
      ->check(whole_number(1'024))
      ->capture_default_str();
}

void add_work_options(CLI::App& command, WorkOptions& options) {
  add_threads_option(command, options.threads);
  command.add_option("--shard", options.shard, "Only part I of N of the work, as I/N")
      ->capture_default_str();
}

void add_merge_option(CLI::App& command, std::vector<std::string>& parts) {
  CLI::Option* const merge =
      command
          .add_option("--merge", parts,
                      "Join the parts that --shard and --json wrote; all in these files")
          ->type_name(file_value);
  for (CLI::Option* const other : command.get_options())
    if (other != merge && other != command.get_help_ptr())
      merge->excludes(other);
}

Shard parse_shard(const std::string& text) {
  const std::size_t slash = text.find('/');
  if (slash != std::string::npos) {
    const auto index = parse_whole_number(text.substr(0, slash));
    const auto count = parse_whole_number(text.substr(slash + 1));
    if (index && count && *index >= 1 && *index <= *count && *count <= Shard::most)
      return {*index, *count};
  }
  throw InputError(fmt::format("--shard: found {}; expected a part and the number of parts, at "
                               "most {}, such as 2/8",
                               in_quotes(text), Shard::most));
}

ThreadLimit::ThreadLimit(std::size_t threads) {
  if (threads > 0)
    limit_.emplace(tbb::global_control::max_allowed_parallelism, threads);
}

} // namespace eggfall::cli
