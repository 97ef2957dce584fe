#include "eggfall/base/version.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>
#include <regex>
#include <string>

TEST_CASE("The version is that of the project") {
  std::ifstream file(EGGFALL_SOURCE_DIR "/CMakeLists.txt");
  REQUIRE(file.is_open());
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  std::smatch found;
  REQUIRE(std::regex_search(text, found, std::regex(R"(project\(eggfall VERSION ([0-9.]+))")));
  CHECK(std::string(eggfall::version()) == found[1].str());
}
