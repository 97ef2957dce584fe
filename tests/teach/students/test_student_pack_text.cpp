#include "teach/students/student_pack_text.hpp"

#include "base/text.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"
#include "teach/students/invented_students.hpp"

#include <pugixml.hpp>

#include <set>
#include <sstream>
#include <string>

using namespace eggfall;
using namespace invented_students;

namespace {

pugi::xml_document parsed(const StudentPack& pack) {
  pugi::xml_document page;
  REQUIRE(page.load_string(start_page(pack).c_str(), pugi::parse_full & ~pugi::parse_doctype));
  return page;
}

std::set<std::string> linked_under(const pugi::xml_document& page, const std::string& heading) {
  std::set<std::string> links;
  const std::string path = "//h2[.='" + heading + "']/following-sibling::ul[1]//a";
  for (const auto& link : page.select_nodes(path.c_str()))
    links.insert(link.node().attribute("href").value());
  return links;
}

const std::set<std::string> for_the_students{"worksheets.html", "exercises.html", "bench.html",
                                             "lesson.html"};
const std::set<std::string> for_the_teacher{"answers.html", "line-up.html", "exercise-answers.html",
                                            "bench-key.html"};

} // namespace

TEST_CASE("class start page: what gives the answer away is not among what is handed out") {
  const pugi::xml_document page = parsed(three_students());
  CHECK(linked_under(page, "To hand out") == for_the_students);
  CHECK(linked_under(page, "To keep until the end") == for_the_teacher);
}

TEST_CASE("class start page: it tells the class, its seed and the question to begin with") {
  StudentPack pack = three_students();
  const std::string words = support::words_of(parsed(pack));
  CHECK_THAT(words, Catch::Contains("For 3 students.") && Catch::Contains("the same seed (3)") &&
                        Catch::Contains(pack.scenario.lesson) &&
                        Catch::Contains("Ask before anything is counted: " + pack.scenario.ask) &&
                        Catch::Contains("veterinarian"));
  pack.scenario.ask.clear();
  pack.scenario.lesson.clear();
  CHECK_THAT(support::words_of(parsed(pack)), !Catch::Contains("Ask before anything"));
}

TEST_CASE("class pack on a terminal: 80 columns with every page and what the intervals hold") {
  StudentPack pack = three_students();
  for (Worksheet& sheet : pack.worksheets) {
    set_limits(sheet, Method::log_ratio_1992, 0.94, 0.99); // the truth is 93%
    set_limits(sheet, Method::guarded_posterior, 0.80, 0.97);
  }
  set_limits(pack.worksheets[1], Method::log_ratio_1992, 0.90, 0.96);
  const std::string text = student_pack_text(pack, "pack");
  CHECK_THAT(text, Catch::StartsWith("A class pack for 3 students in pack, seed 3\n"));
  const std::string flowing_text = flowing(text);
  CHECK_THAT(flowing_text,
             Catch::Contains("The drench truly removes 93.0%. Intervals by hand: 1 of 3 holds the "
                             "truth; 2 miss it.") &&
                 Catch::Contains("By the posterior: 3 of 3 hold the truth."));
  for (const std::set<std::string>& pages : {for_the_students, for_the_teacher})
    for (const std::string& page : pages)
      CHECK_THAT(text, Catch::Contains(page));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(character_count(line) <= 80);
  }
}
