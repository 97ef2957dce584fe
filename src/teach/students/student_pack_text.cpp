#include "teach/students/student_pack_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/version.hpp"
#include "formats/drawing/html_page.hpp"
#include "formats/terminal_text.hpp"
#include "report/safety_note.hpp"
#include "teach/students/student_words.hpp"

#include <fmt/format.h>

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

/// On one sheet of paper.
constexpr std::string_view start_page_style = R"css(
main li { margin: 0.4rem 0; }
@media print { body { line-height: 1.35; } main li { margin: 0.15rem 0; } p { margin: 0.4rem 0; }
  h2 { margin-top: 0.8rem; } }
)css";

/// A page of the pack.
struct PackPage {
  std::string_view file;
  std::string_view title;
  std::string_view use;
};

/// What the class sees.
constexpr std::array<PackPage, 4> handed_out{{
    {"worksheets.html", "Worksheets",
     "Print one page a student. Each has another test of the same drench and works it out by hand, "
     "in some twenty minutes. The last page is an empty line-up, for the wall."},
    {"exercises.html", "Exercises on design",
     "Six sheets, a quarter of an hour each: how many animals, how coarse a slide, which mean, "
     "leaving out low counts, the wrong day, an animal that slipped past the gun."},
    {"bench.html", "At the bench",
     "Drawn chambers to count by eye, 60 times their size, the line rule, and the sums from eggs "
     "to EPG. Print at 100%, ten sheets; three quarters of an hour with the talk."},
    {"lesson.html", "Try it",
     "For a screen or a phone: move the number of animals, the factor, how uneven the worms are, "
     "and the truth, and watch intervals and verdicts change."},
}};

/// What whoever teaches keeps until the end.
constexpr std::array<PackPage, 4> kept_back{{
    {"answers.html", "Answers to the worksheets", "Every step of every worksheet, worked out."},
    {"line-up.html", "The line-up",
     "All tests of the class against the truth, by hand and by the posterior: show it last."},
    {"exercise-answers.html", "Answers to the exercises",
     "With the intervals, and what many such tests do."},
    {"bench-key.html", "Key to the chambers",
     "Every counted egg circled, and the truth behind it."},
}};

void add_pages(pugi::xml_node body, std::string_view heading, const std::vector<PackPage>& pages) {
  add_element(body, "h2", heading);
  pugi::xml_node list = add_element(body, "ul");
  for (const PackPage& page : pages) {
    pugi::xml_node item = add_element(list, "li");
    add_element(item, "a", page.title)
        .append_attribute("href")
        .set_value(std::string(page.file).c_str());
    append_words(item, fmt::format(": {}", page.use));
  }
}

std::vector<PackPage> listed(const auto& pages) {
  return {std::begin(pages), std::end(pages)};
}

} // namespace

std::string start_page(const StudentPack& pack) {
  const std::string title = "A class pack: can we trust a drench test?";
  HtmlPage page(title, std::string(start_page_style) +
                           paper_foot(fmt::format("Class pack, seed {}", pack.seed)));
  pugi::xml_node body = add_element(page.body(), "main");
  add_element(body, "h1", title);
  if (!pack.scenario.lesson.empty())
    add_element(body, "p", pack.scenario.lesson);
  add_element(body, "p",
              fmt::format("For {} students. The farm, the animals and the counts are invented; the "
                          "same seed ({}) always gives the same pack, another seed another class.",
                          pack.worksheets.size(), pack.seed));
  add_pages(body, "To hand out", listed(handed_out));
  add_pages(body, "To keep until the end", listed(kept_back));
  add_element(body, "h2", "In what order");
  pugi::xml_node steps = add_element(body, "ol");
  if (!pack.scenario.ask.empty())
    add_element(steps, "li", "Ask before anything is counted: " + pack.scenario.ask);
  add_element(steps, "li", "Worksheets: everyone works out one, alone or in pairs.");
  add_element(
      steps, "li",
      "Everyone draws their own interval on the line-up on the wall. Count the verdicts: who "
      "would have told the farmer what?");
  add_element(steps, "li", "Show the truth, and line-up.html beside the wall.");
  add_element(steps, "li", "Exercises, bench or lesson.html, as time allows.");
  add_element(steps, "li",
              "Close with what one would do on a farm: enough animals, enough eggs counted, the "
              "right day, every animal dosed by weight, and a veterinarian asked.");
  add_element(body, "h2", "For those with the program");
  add_element(
      body, "p",
      "The folder tables has every worksheet's and exercise's counts for eggfall analyse; "
      "truth.json has what nobody on the farm could know of each animal on the worksheets.");
  add_element(body, "h2", "Take care");
  add_element(body, "p", cautions());
  add_element(body, "p", fmt::format("Made by eggfall {}, seed {}.", version(), pack.seed), "note");
  return page.text();
}

std::vector<std::string> pack_entries() {
  std::vector<std::string> entries{"index.html", "truth.json", "tables"};
  for (const auto& pages : {listed(handed_out), listed(kept_back)})
    for (const PackPage& page : pages)
      entries.emplace_back(page.file);
  return entries;
}

std::string student_pack_text(const StudentPack& pack, const std::string& folder) {
  std::string text = fmt::format("A class pack for {} students in {}, seed {}\n",
                                 pack.worksheets.size(), folder, pack.seed);
  const auto names = [](const auto& pages) {
    std::vector<std::string_view> files;
    for (const PackPage& page : pages)
      files.push_back(page.file);
    return fmt::format("{}", fmt::join(files, ", "));
  };
  const LineUp line_up = students_line_up(pack);
  for (const std::string& line :
       {fmt::format("The drench truly removes {}. Intervals by hand: {}",
                    percent_written(pack.truth), tally_words(line_up, Method::log_ratio_1992)),
        "By the posterior: " + tally_words(line_up, Method::guarded_posterior),
        std::string("Start with index.html: what to print for whom, and in what order."),
        fmt::format("To hand out: {}", names(handed_out)),
        fmt::format("To keep until the end: {}", names(kept_back)),
        std::string("For eggfall analyse: tables/*.csv. What they come from: truth.json")})
    text += paragraph(line, "  ");
  return text;
}

} // namespace eggfall
