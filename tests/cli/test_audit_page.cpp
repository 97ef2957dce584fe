#include "cli/program.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <iterator>
#include <string>
#include <vector>

// Rows of the published audit (docs/audit/) are worked out again by the program of today.

namespace {

/// How many trials of each setting a page says that it was made of.
std::string trials_of_page(const std::string& grid) {
  const std::string page = read_text(EGGFALL_SOURCE_DIR "/docs/audit/" + grid + ".md");
  const auto end = page.find(" trials of each");
  REQUIRE(end != std::string::npos);
  const auto start = page.rfind(' ', end - 1) + 1;
  return page.substr(start, end - start);
}

/// The first cells of the table row of a page that starts like this.
std::string published_row(const std::string& grid, const std::string& start) {
  const std::string page = read_text(EGGFALL_SOURCE_DIR "/docs/audit/" + grid + ".md");
  const auto at = page.find("\n" + start);
  REQUIRE(at != std::string::npos);
  CHECK(page.find("\n" + start, at + 1) == std::string::npos); // one row only
  return page.substr(at + 1, page.find('\n', at + 1) - at - 1);
}

std::string row_now(const std::string& options, const std::string& start) {
  const ScratchDirectory scratch;
  const std::string page = scratch.path("one.md");
  REQUIRE(run("eggfall audit " + options + " --page '" + page + "'").exit_code == 0);
  const std::string text = read_text(page);
  const auto at = text.find("\n" + start);
  REQUIRE(at != std::string::npos);
  return text.substr(at + 1, text.find('\n', at + 1) - at - 1);
}

} // namespace

TEST_CASE("Rows of the published audit are what the program gives") {
  struct Row {
    std::string grid;
    std::string start;
    std::string options;
  };
  for (const Row& row : std::vector<Row>{
           {"calibration", "| 7 | 20 | 0.2 | 1 | 90.0% |  |",
            "--animals 7 --eggs 20 --k 0.2 --within-cv 1 --efficacy 90"},
           {"calibration", "| 10 | 30 | 3 | 0.5 | 99.0% | k 1 after treatment |",
            "--design two-group --animals 10 --eggs 30 --k 3 --k-after 1 --within-cv 0.5 "
            "--efficacy 99"},
           {"stress", "| 15 | 3 | 0.7 | 0.5 | 95.5% | 4% not dosed |",
            "--animals 15 --eggs 3 --undosed 4 --efficacy 99.5"},
           {"thresholds", "| 25 | 40 | 1.5 | 0.3 | 89.9% |  |",
            "--animals 25 --eggs 40 --k 1.5 --within-cv 0.3 --efficacy 89.9"},
           {"thresholds", "| 10 | 15 | 0.5 | 0.8 | 98.9% |  |",
            "--animals 10 --eggs 15 --k 0.5 --within-cv 0.8 --efficacy 98.9"},
           {"few-eggs", "| 10 | 1.5 | 3 | 0.1 | 89.9% |  |",
            "--animals 10 --eggs 1.5 --k 3 --within-cv 0.1 --efficacy 89.9"},
           {"cultures",
            "| 15 | 5 | 0.7 | 0.5 | 90.0% | the worm lays 10% of the eggs, the others fall by 99%, "
            "50 larvae told apart |",
            "--animals 15 --eggs 5 --worm-share 10 --larvae 50 --efficacy 90"},
           {"pools", "| 5 | 10 | 0.7 | 0.5 | 95.0% | 4% not dosed, pools of 10 |",
            "--animals 5 --animals-in-pool 10 --eggs 10 --undosed 4 --efficacy 99"}}) {
    CAPTURE(row.options);
    CHECK(row_now(row.options + " --trials " + trials_of_page(row.grid), row.start) ==
          published_row(row.grid, row.start));
  }
}

TEST_CASE("A page in Markdown is one file of words and tables; the figures have a folder") {
  const ScratchDirectory scratch;
  const Run result =
      run("eggfall audit --animals 6 --trials 60 --page '" + scratch.path("p.md") +
          "' --figures '" + scratch.path("figures") + "' --json '" + scratch.path("p.json") + "'");
  REQUIRE(result.exit_code == 0);
  const std::string page = read_text(scratch.path("p.md"));
  CHECK(page.find("| 6 | 10 | 0.7 | 0.5 | 95.0% |") != std::string::npos);
  CHECK(page.find("![") == std::string::npos);
  CHECK(page.find("](") == std::string::npos);
  const auto figure = [&](const std::string& folder, const std::string& name) {
    return read_text(scratch.path(folder + "/" + name));
  };
  for (const char* name : {"coverage.svg", "classes-paired.svg"})
    CHECK(figure("figures", name).find("<svg") != std::string::npos);
  CHECK(std::distance(std::filesystem::directory_iterator(scratch.path("figures")), {}) == 2);

  // From the tallies kept, the same page and figures.
  std::filesystem::create_directory(scratch.path("again"));
  REQUIRE(run("eggfall audit --merge '" + scratch.path("p.json") + "' --page '" +
              scratch.path("again/p.md") + "' --figures '" + scratch.path("again") + "'")
              .exit_code == 0);
  CHECK(read_text(scratch.path("again/p.md")) == page);
  for (const char* name : {"coverage.svg", "classes-paired.svg"})
    CHECK(figure("again", name) == figure("figures", name));
}

TEST_CASE("A page of HTML is one file with its figures in it") {
  const ScratchDirectory scratch;
  const Run result =
      run("eggfall audit --animals 6 --trials 60 --page '" + scratch.path("p.HTML") + "'");
  REQUIRE(result.exit_code == 0);
  CHECK(std::distance(std::filesystem::directory_iterator(scratch.path()), {}) == 1);
  const std::string page = read_text(scratch.path("p.HTML"));
  CHECK(page.find("<!DOCTYPE html>") == 0);
  CHECK(page.find("<svg") != std::string::npos);
  CHECK(page.find("src=") == std::string::npos);
}
