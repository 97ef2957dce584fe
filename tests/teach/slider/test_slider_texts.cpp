#include "teach/slider/slider_texts.hpp"

#include "support/support.hpp"

#include <fstream>
#include <iterator>
#include <string>

using namespace eggfall;

namespace {

std::string data_file(const std::string& name) {
  std::ifstream file(EGGFALL_SOURCE_DIR "/src/data/" + name, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), {}};
}

} // namespace

TEST_CASE("The files that the lesson page is made of are compiled in byte by byte", "[lesson]") {
  // Not by CHECK(a == b), which would print all of them where they differ.
  const bool same_audit = slider_audit_json() == data_file("lesson_audit.json");
  CHECK(same_audit);
  const bool same_script = slider_page_script() == data_file("slider_page.js");
  CHECK(same_script);
  CHECK(slider_audit_json().size() > 64 * 1024); // more than one string literal may hold
}
