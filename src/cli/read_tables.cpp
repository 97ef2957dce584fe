#include "cli/read_tables.hpp"

#include "cli/files.hpp"
#include "cli/screen.hpp"

#include "base/text.hpp"

#include <utility>

namespace eggfall::cli {
namespace {

/// "Before,After": sheets of one workbook; one name with a comma in it is tried as it is by the
/// reader, which lists the sheets.
std::vector<std::string> listed_sheets(const std::string& text) {
  std::vector<std::string> sheets;
  std::size_t start = 0;
  while (true) {
    const std::size_t end = text.find(',', start);
    sheets.emplace_back(trimmed(std::string_view(text).substr(start, end - start)));
    if (end == std::string::npos)
      return sheets;
    start = end + 1;
  }
}

} // namespace

UnderstoodTables read_tables(const std::vector<ReadFile>& files, const ReadingOptions& options,
                             const ChosenLayout& chosen, NeededCounts needed) {
  std::vector<TableBytes> tables;
  for (const ReadFile& file : files) {
    const std::string name = read_options(options, chosen.layout, file.path).trial_name;
    for (std::string& sheet : listed_sheets(options.sheet))
      tables.push_back({file.bytes, {file.path, std::move(sheet)}, name});
  }
  ReadOptions how = read_options(options, chosen.layout, files.front().path);
  how.needed = needed;
  UnderstoodTables understood = understand_tables(tables, how, chosen.layout);
  if (!chosen.file.empty() && !understood.all.empty()) {
    const std::string line = "read by the layout " + chosen.file;
    understood.told.insert(understood.told.begin(), line);
    understood.all.insert(understood.all.begin(), line);
  }
  return understood;
}

UnderstoodTables read_tables(const std::vector<std::string>& paths, const ReadingOptions& options,
                             NeededCounts needed) {
  const ChosenLayout chosen = chosen_layout(options.layout, paths);
  std::vector<ReadFile> files;
  for (const std::string& path : paths)
    files.push_back({path, read_file(path)});
  return read_tables(files, options, chosen, needed);
}

Layout kept_layout(const std::vector<std::string>& paths, const ReadingOptions& options) {
  Layout layout = chosen_layout(options.layout, paths).layout;
  Layout said;
  said.factor = options.factor;
  said.factor_before = options.factor_before;
  said.factor_after = options.factor_after;
  said.host = options.host;
  said.control = options.control;
  return joined(std::move(said), layout);
}

void tell_reading(const UnderstoodTables& tables) {
  tell_notes(tables.told);
  tell_notes(tables.table.notes);
}

} // namespace eggfall::cli
