#include "cli/read_tables.hpp"

#include "cli/files.hpp"
#include "cli/option_name.hpp"
#include "cli/screen.hpp"

#include <utility>

namespace eggfall::cli {

UnderstoodTables read_tables(const std::vector<TableFile>& files, const ReadingOptions& options,
                             const ChosenLayout& chosen, NeededCounts needed) {
  UnderstoodTables understood =
      understand_files(files, {with_options(options, chosen.layout), options.sheet}, needed);
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
  std::vector<TableFile> files;
  for (const std::string& path : paths)
    files.push_back({path, read_file(path)});
  return read_tables(files, options, chosen, needed);
}

Layout kept_layout(const std::vector<std::string>& paths, const ReadingOptions& options) {
  return with_options(options, chosen_layout(options.layout, paths).layout);
}

void tell_reading(const UnderstoodTables& tables) {
  tell_notes(texts_of(tables.told, option_names));
  tell_notes(tables.table.notes);
}

} // namespace eggfall::cli
