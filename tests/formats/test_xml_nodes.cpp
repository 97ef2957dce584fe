#include "formats/xml_nodes.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace eggfall;

TEST_CASE("A name is known without the prefix of its namespace") {
  CHECK(local_name("row") == "row");
  CHECK(local_name("x:row") == "row");
  CHECK(local_name("").empty());
}

TEST_CASE("A child is found by its name, whatever its prefix") {
  pugi::xml_document document;
  REQUIRE(document.load_string("<s><x:rows n=\"0\"/><y:row n=\"1\"/><row n=\"2\"/></s>"));
  const pugi::xml_node root = document.document_element();
  CHECK(is_named(root, "s"));
  CHECK_FALSE(is_named(root, "row"));
  CHECK(child_named(root, "row").attribute("n").as_int() == 1);
  CHECK(child_named(root, "x:rows").empty());
  CHECK(child_named(root, "s").empty());
}

TEST_CASE("The text within a node is its own, in pieces or not") {
  pugi::xml_document document;
  REQUIRE(document.load_string("<t>a &amp; <b>no</b>b<![CDATA[<c>]]><!-- no --></t>"));
  CHECK(text_within(document.document_element()) == "a & b<c>");
  CHECK(text_within(pugi::xml_node()).empty());
}
