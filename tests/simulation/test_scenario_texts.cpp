#include "simulation/scenario_texts.hpp"

#include "support/support.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

using namespace eggfall;

TEST_CASE("Every file of the scenarios' folder is compiled in once and as it is") {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(EGGFALL_SOURCE_DIR "/src/data/scenarios")) {
    std::ifstream file(entry.path(), std::ios::binary);
    files.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  std::vector<std::string> texts(scenario_texts().begin(), scenario_texts().end());
  CHECK(texts.front().find("name = \"class\"") != std::string::npos); // listed first
  std::ranges::sort(files);
  std::ranges::sort(texts);
  CHECK(texts == files);
}
