#include "report/farmer_part.hpp"

#include "support/page_words.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <chrono>
#include <string>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

Caveat caveat(CaveatCode code, Severity severity, const std::string& text) {
  return {code, text, severity};
}

/// A good drench of two animals.
GroupAnalysis group(const std::string& name, std::vector<Caveat> caveats = {}) {
  GroupAnalysis result;
  result.evidence.group.name = name;
  result.evidence.group.host = "sheep";
  result.evidence.design = Design::paired;
  result.evidence.after = summarise(support::counts({1, 1}, 15));
  result.evidence.reduction = 0.92;
  result.evidence.headline.lower = 0.85;
  result.evidence.headline.upper = 0.96;
  Verdict verdict;
  verdict.verdict_class = VerdictClass::susceptible;
  result.judgement.verdicts = {verdict};
  result.judgement.standing.verdict_class = VerdictClass::susceptible;
  result.judgement.standing.sign = DrenchSign::works;
  result.caveats = std::move(caveats);
  result.advice.next_step = "Go on.";
  return result;
}

DateRange on(unsigned day) {
  using namespace std::chrono;
  const year_month_day date = year(2031) / March / std::chrono::day(day);
  return {date, date};
}

pugi::xml_document page_of(std::vector<GroupAnalysis> groups) {
  TrialAnalysis trial;
  trial.trial = "Hill farm";
  trial.groups = std::move(groups);
  pugi::xml_document page;
  add_farmer_part(page, trial);
  return page;
}

/// The texts of the elements found.
std::vector<std::string> texts(const pugi::xml_document& page, const char* path) {
  std::vector<std::string> found;
  for (const auto& node : page.select_nodes(path))
    found.emplace_back(node.node().text().get());
  return found;
}

using Texts = std::vector<std::string>;

} // namespace

TEST_CASE("The farmer's page asks of one drench or of several") {
  CHECK(texts(page_of({group("white")}), "//h1") == Texts{"Does the drench still work? Hill farm"});
  CHECK(texts(page_of({group("white"), group("clear")}), "//h1") ==
        Texts{"Do the drenches still work? Hill farm"});
}

TEST_CASE("Dates and host are told once, where all groups have the same") {
  GroupAnalysis white = group("white");
  white.field.days.first_samples = on(1);
  white.field.days.treatments = on(3);
  white.field.days.second_samples = DateRange{on(12).first, on(14).last};
  GroupAnalysis clear = group("clear");
  clear.field.days = white.field.days;
  // 1 March 2031 is a Saturday.
  CHECK(texts(page_of({white, clear}), "//section/p").front() ==
        "First sample on Sat 1 March 2031, drench on Mon 3 March 2031 and second sample on Wed 12 "
        "March 2031 to Fri 14 March 2031. Tested in sheep: white (2 animals) and clear (2 "
        "animals).");
  clear.field.days.treatments = on(4);
  clear.evidence.group.host = "goats";
  CHECK(texts(page_of({white, clear}), "//section/p").front() ==
        "Tested: white (2 animals) and clear (2 animals).");
}

TEST_CASE("The farmer is told the two most serious caveats, and what may harm animals") {
  const auto page =
      page_of({group("white", {caveat(CaveatCode::no_larvae, Severity::serious, "First."),
                               caveat(CaveatCode::few_larvae, Severity::serious, "Second."),
                               caveat(CaveatCode::pooled, Severity::serious, "Third."),
                               caveat(CaveatCode::few_animals, Severity::warning, "Few."),
                               caveat(CaveatCode::one_animal, Severity::warning, "One."),
                               caveat(CaveatCode::overdosed, Severity::note, "Too much.")})});
  const Texts told = texts(page, "//article/p[not(@class)]");
  REQUIRE(told.size() == 5); // the sentences on the drench stand in front
  CHECK(Texts(told.begin() + 1, told.end()) == Texts{"First.", "Second.", "One.", "Too much."});
}

TEST_CASE("Each drench has its sign, its name, its words and what to do") {
  const auto page = page_of({group("white"), group("clear")});
  CHECK(page.select_nodes("//article[@class='drench']").size() == 2);
  CHECK(page.select_nodes("//h2/svg[@class='sign inked']").size() == 2);
  CHECK(texts(page, "//h2/span[@class='name']") == Texts{"white: ", "clear: "});
  CHECK(texts(page, "//h2/span[not(@class)]") == Texts{"Works", "Works"});
  CHECK(support::words_of(page.select_node("//p[@class='next']").node()) == "What to do:  Go on. ");
}

TEST_CASE("Untreated animals are mentioned only if there were any") {
  TrialAnalysis trial;
  trial.groups = {group("white")};
  const auto mentions = [&] {
    pugi::xml_document page;
    add_farmer_part(page, trial);
    return support::words_of(page).find("left untreated") != std::string::npos;
  };
  CHECK_FALSE(mentions());
  trial.control = ControlAnalysis{};
  CHECK(mentions());
}
