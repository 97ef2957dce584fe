#include "intake/layout.hpp"
#include "intake/reading_text.hpp"
#include "intake/understand.hpp"
#include "trial/counts_table.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <vector>

// Tables in the shapes that people keep them in, invented, each with what is to be understood of it,
// checked by eye (tables/*.txt; tables/expected.sh writes them anew).

using namespace eggfall;

namespace {

const std::filesystem::path folder = EGGFALL_SOURCE_DIR "/tests/intake/tables";

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The files of each table by its name: "two-files" has two.
std::map<std::string, std::vector<std::filesystem::path>> tables() {
  std::map<std::string, std::vector<std::filesystem::path>> found;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string extension = entry.path().extension();
    if (extension != ".csv" && extension != ".xlsx" && extension != ".ods")
      continue;
    std::string name = entry.path().stem();
    for (const std::string end : {".before", ".after"})
      if (name.ends_with(end))
        name.resize(name.size() - end.size());
    found[name].push_back(entry.path());
  }
  for (auto& [name, files] : found) // before first
    std::ranges::sort(files, std::ranges::greater());
  return found;
}

std::string without_returns(std::string text) {
  std::erase(text, '\r');
  return text;
}

std::string understood(const std::string& name, const std::vector<std::filesystem::path>& files) {
  const bool own = std::filesystem::exists(folder / (name + ".toml"));
  const std::string layout_name = own ? name + ".toml" : "any.toml";
  const Layout layout = read_layout(bytes_of(folder / layout_name), layout_name);
  ReadOptions options;
  const auto factor = [&](const std::optional<double>& of_one) {
    return MultiplicationFactor(of_one ? *of_one : layout.factor.value());
  };
  options.factor_before = factor(layout.factor_before);
  options.factor_after = factor(layout.factor_after);
  options.host = layout.host;
  options.control = layout.control;
  std::vector<TableBytes> input;
  for (const auto& file : files)
    input.push_back({bytes_of(file), {file.filename().string()}, file.stem()});
  const UnderstoodTables tables = understand_tables(input, options, layout);
  // The program says first which layout it read.
  std::string text = reading_text(tables);
  const std::string heading = "Understood\n";
  text.insert(heading.size(), "- read by the layout " + layout_name + "\n");
  return text + without_returns(counts_table(tables.table.trials));
}

} // namespace

TEST_CASE("Tables as people keep them are understood, word for word") {
  const auto all = tables();
  CHECK(all.size() >= 35);
  for (const auto& [name, files] : all) {
    INFO(name);
    CHECK(understood(name, files) == bytes_of(folder / (name + ".txt")));
  }
}
