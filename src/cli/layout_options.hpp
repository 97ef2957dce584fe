#pragma once

#include "intake/layout.hpp"

#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace eggfall::cli {

/// What a command line says of tables that are kept in their owner's own form.
struct LayoutOptions {
  std::vector<std::string> columns;
  std::vector<std::string> cells;
  std::string dates;
  std::string counts;
  std::string day_before;
  std::string day_after;
  std::optional<unsigned> mean_of;
  std::vector<std::string> occasions;
  std::string side_by_side;
  std::vector<std::string> treated;
  std::string file;
};

/// The file that is read if it lies beside a table and no other is named.
inline constexpr const char* layout_file_name = "eggfall-layout.toml";

void add_layout_options(CLI::App& command, LayoutOptions& options);

/// The options, and behind them the layout's file: the one named, or the one beside the first
/// table.
struct ChosenLayout {
  Layout layout;
  std::string file; ///< Empty: none.
};
/// @throws InputError for an option or a file that is none.
ChosenLayout chosen_layout(const LayoutOptions& options, const std::vector<std::string>& tables);

} // namespace eggfall::cli
