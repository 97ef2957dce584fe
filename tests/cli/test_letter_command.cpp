#include "cli/program.hpp"

#include "formats/zip_archive.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <string>

namespace {

std::string letter_of(const std::string& options, const std::string& file) {
  const ScratchDirectory scratch;
  const std::string path = scratch.path(file);
  const Run made = run("eggfall analyse " + options + " --letter '" + path + "'");
  INFO(made.errors);
  REQUIRE(made.exit_code == 0);
  CHECK_FALSE(made.output.empty()); // the screen's text goes on as ever
  return read_text(path);
}

std::string document_xml(const std::string& file) {
  const auto part = eggfall::ZipArchive(file, "letter.docx").part("word/document.xml");
  REQUIRE(part);
  return *part;
}

} // namespace

TEST_CASE("letter: the ending of its file chooses its form") {
  const std::string page = letter_of("examples/brackenhill.csv", "letter.html");
  CHECK(page.starts_with("<!DOCTYPE html>"));
  const std::string document = letter_of("examples/brackenhill.csv", "Letter.DOCX");
  CHECK(document.starts_with("PK"));
  for (const char* words : {"white drench: Failing", "clear drench: Works", "Signature: "}) {
    INFO(words);
    CHECK_THAT(page, Catch::Contains(words));
    CHECK_THAT(document_xml(document), Catch::Contains(words));
  }
  // Standard output has no ending, and takes the page, alone.
  CHECK(run("eggfall analyse examples/brackenhill.csv --letter -").output == page);
  CHECK(letter_of("examples/brackenhill.csv", "letter.docx") == document);
}

TEST_CASE("letter: another ending is refused with the way out, and nothing is written") {
  const ScratchDirectory scratch;
  for (const char* name : {"letter.pdf", "letter", "letter.doc", ".docx"}) {
    INFO(name);
    const Run refused = run("eggfall analyse examples/brackenhill.csv --csv '" +
                            scratch.path("r.csv") + "' --letter '" + scratch.path(name) + "'");
    CHECK(refused.exit_code == 2);
    CHECK(refused.output.empty());
    CHECK_THAT(refused.errors, Catch::Contains(name) &&
                                   Catch::Contains("expected .html (a page to print) or .docx"));
  }
  CHECK(std::filesystem::is_empty(scratch.path()));
}

TEST_CASE("letter: all results are written, or none") {
  const ScratchDirectory scratch;
  const Run refused =
      run("eggfall analyse examples/brackenhill.csv --letter '" + scratch.path("letter.docx") +
          "' --report '" + scratch.path("no/such/folder.html") + "'");
  CHECK(refused.exit_code == 2);
  CHECK(std::filesystem::is_empty(scratch.path()));
  const Run both = run("eggfall analyse examples/brackenhill.csv --letter - --report -");
  CHECK(both.exit_code == 2);
  CHECK_THAT(both.errors, Catch::Contains("expected one of them on standard output"));
  const Run same = run("eggfall analyse examples/brackenhill.csv --letter '" +
                       scratch.path("a.html") + "' --report '" + scratch.path("a.html") + "'");
  CHECK(same.exit_code == 2);
}

TEST_CASE("letter: several trials are several letters, each on a page of its own") {
  const std::string page = letter_of("examples/region.csv --simulations 0", "letters.html");
  const std::string words =
      document_xml(letter_of("examples/region.csv --simulations 0", "letters.docx"));
  const auto count = [](const std::string& text, const std::string& what) {
    std::size_t found = 0;
    for (std::size_t position = text.find(what); position != std::string::npos;
         position = text.find(what, position + 1))
      ++found;
    return found;
  };
  CHECK(count(page, "<section class=\"part\">") == 40);
  CHECK(count(words, "<w:pageBreakBefore") == 39);
  CHECK(count(words, "Signature: ") == 40);
}

TEST_CASE("letter: who it is to and from may be given, and is refused where nothing shows it") {
  const std::string page =
      letter_of("examples/brackenhill.csv --owner 'A <b> Owner' --farm Brackenhill "
                "--veterinarian 'B Vet'",
                "letter.html");
  CHECK_THAT(page, Catch::Contains("A &lt;b&gt; Owner, Brackenhill") && Catch::Contains("B Vet"));
  const Run refused = run("eggfall analyse examples/brackenhill.csv --owner A");
  CHECK(refused.exit_code == 2);
  CHECK(refused.output.empty());
  CHECK_THAT(refused.errors, Catch::Contains("found neither --report nor --letter"));
}
