#include "formats/zip_writer.hpp"

#include "formats/zip_archive.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

TEST_CASE("A zip file gives back what was put into it, part by part") {
  const std::string bytes("a\0b\xFF", 4);
  const std::string file =
      zip_bytes({{"first.xml", "<a/>"}, {"in/a folder.bin", bytes}, {"empty", ""}});
  const ZipArchive archive(file, "t");
  CHECK(archive.part("first.xml") == "<a/>");
  CHECK(archive.part("in/a folder.bin") == bytes);
  CHECK(archive.part("empty") == "");
  CHECK_FALSE(archive.has("second.xml"));
}

TEST_CASE("The bytes of a zip file hang on its parts alone") {
  const std::string file = zip_bytes({{"a", "text"}});
  CHECK(file == zip_bytes({{"a", "text"}}));
  CHECK(file != zip_bytes({{"a", "test"}}));
  // The format's local header: four bytes of signature, two each of version, flags and method, then
  // time and day, as MS-DOS had them (APPNOTE.TXT, 4.3.7 and 4.4.6, from memory): 0:00 on 1 January
  // 1980.
  REQUIRE(file.size() > 14);
  CHECK(file.substr(0, 4) == "PK\x03\x04");
  CHECK(file.substr(10, 4) == std::string("\0\0\x21\0", 4));
}
