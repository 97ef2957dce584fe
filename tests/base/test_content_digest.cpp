#include "base/content_digest.hpp"

#include <catch2/catch.hpp>

using namespace eggfall;

// What xz, the program, stores of these nine bytes, least byte first (Debian's xz-utils 5.4:
// printf 123456789 | xz --check=crc64 | xxd). It is also the check value published for CRC-64/XZ.
TEST_CASE("A digest has the check value of its kind, however the bytes come") {
  ContentDigest whole;
  whole.add("123456789");
  CHECK(whole.text() == "crc64:995dc9bbdf1939fa");
  ContentDigest parts;
  parts.add("1234");
  parts.add("");
  parts.add("56789");
  CHECK(parts.text() == whole.text());
  CHECK(ContentDigest().text() == "crc64:0000000000000000");
}

TEST_CASE("Two files of the same size have digests of their own") {
  ContentDigest one;
  one.add("white,1,14,0\n");
  ContentDigest other;
  other.add("white,1,14,1\n");
  CHECK(one.text() != other.text());
}
