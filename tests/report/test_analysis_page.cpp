#include "eggfall/report/analysis_page.hpp"

#include "eggfall/judgement/analyse.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "judgement/eggs_left.hpp"
#include "report/farmer_words.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"

#include <pugixml.hpp>

#include <cctype>
#include <cmath>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

using namespace eggfall;
using support::words_of;

namespace {

std::string text_of(const std::string& path) {
  std::ifstream file(EGGFALL_SOURCE_DIR "/" + path, std::ios::binary);
  REQUIRE(file);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

AnalysisSettings quick() {
  AnalysisSettings settings;
  settings.simulations = 0;
  return settings;
}

std::vector<TrialAnalysis> analysed(const std::string& path) {
  std::vector<TrialAnalysis> trials;
  for (const Trial& trial : read_trials(text_of(path), path, {}).trials)
    trials.push_back(analyse(trial, published_cut_offs(), quick()));
  return trials;
}

pugi::xml_document page_of(const std::string& path) {
  pugi::xml_document page;
  REQUIRE(page.load_string(analysis_report(analysed(path), quick()).c_str(), pugi::parse_full));
  return page;
}

std::string farmer_words_of(const std::string& path) {
  return words_of(page_of(path).select_node("//section[@class='farmer']").node());
}

/// Vowels that stand together are one syllable; a silent e at the end is none. Rough, but the
/// measure is.
std::size_t syllables(const std::string& word) {
  std::size_t count = 0;
  bool in_vowels = false;
  for (const char c : word) {
    const bool vowel = std::string_view("aeiouy").find(static_cast<char>(std::tolower(c))) !=
                       std::string_view::npos;
    count += vowel && !in_vowels ? 1 : 0;
    in_vowels = vowel;
  }
  const bool silent = word.size() > 2 && word.ends_with('e') && !word.ends_with("le");
  return std::max<std::size_t>(1, count - (silent && count > 1 ? 1 : 0));
}

/// Flesch 1948, A new readability yardstick, Journal of Applied Psychology 32:221-233:
/// 206.835 - 1.015 words a sentence - 84.6 syllables a word.
double reading_ease(const std::string& text) {
  const std::regex word("[A-Za-z']+");
  std::size_t words = 0;
  std::size_t all_syllables = 0;
  for (std::sregex_iterator match(text.begin(), text.end(), word), end; match != end; ++match) {
    ++words;
    all_syllables += syllables(match->str());
  }
  std::size_t sentences = 0;
  for (std::size_t i = 0; i + 1 < text.size(); ++i)
    if (std::string_view(".?!").find(text[i]) != std::string_view::npos && text[i + 1] == ' ')
      ++sentences;
  REQUIRE(sentences > 0);
  const auto ratio = [](std::size_t a, std::size_t b) {
    return static_cast<double>(a) / static_cast<double>(b);
  };
  return 206.835 - 1.015 * ratio(words, sentences) - 84.6 * ratio(all_syllables, words);
}

} // namespace

TEST_CASE("The page for the farmer says how many eggs were left, what that means and what to do") {
  const std::string words = farmer_words_of("examples/brackenhill.csv");
  for (const char* part :
       {"white drench: Failing", "clear drench: Works", "yellow drench: Can't tell yet",
        "No worm egg was found after the drench.", "is made to hold the truth 90 times in 100",
        "one that does less than it should is likelier.",
        "Untreated animals had 128 eggs at the second sample for every 100 at the first",
        "What to do:", "Wear gloves", "withholding period", "veterinarian registered"}) {
    INFO(part);
    std::string flat = words;
    flat = std::regex_replace(flat, std::regex(" +"), " ");
    CHECK_THAT(flat, Catch::Contains(part));
  }
}

TEST_CASE("The page for the farmer is easy to read") {
  // Flesch calls 60 to 70 standard, and 70 to 80 fairly easy.
  CHECK(reading_ease("The cat sat on the mat. It was fat. ") > 100);
  CHECK(reading_ease(farmer_words_of("examples/brackenhill.csv")) > 60);
  for (const char* trial : {"no-egg-after", "counts-rise", "three-animals", "huge-counts"}) {
    INFO(trial);
    CHECK(reading_ease(farmer_words_of(std::string("tests/extremes/") + trial + ".csv")) > 55);
  }
}

TEST_CASE("What the farmer reads is true of trials at the edges") {
  const auto sentences = [](const std::string& name) {
    return farmer_sentences(analysed("tests/extremes/" + name + ".csv")[0].groups[0]);
  };
  const auto sign = [](const std::string& name) {
    return analysed("tests/extremes/" + name + ".csv")[0].groups[0].judgement.standing.sign;
  };
  // No egg: never "none" without what luck leaves open.
  CHECK(sentences("no-egg-after") ==
        "No worm egg was found after the drench. Allowing for luck, up to 2 of every 100 may be "
        "left. That is what a drench that works does. This holds if the season alone did not move "
        "the counts, the second sample was taken on day 8 to 10 and each animal got the label's "
        "dose for its weight.");
  // 155 eggs before and 259 after, at one factor: arithmetic.
  const GroupAnalysis rising = analysed("tests/extremes/counts-rise.csv")[0].groups[0];
  const auto rise = eggs_left(rising.evidence, rising.judgement);
  REQUIRE(rise);
  CHECK(rise->found > 100);
  CHECK_THAT(sentences("counts-rise"),
             Catch::StartsWith("There were more worm eggs after the drench than before: 167 for "
                               "every 100."));
  CHECK(sign("counts-rise") == DrenchSign::failing);
  CHECK(sign("three-animals") == DrenchSign::cannot_tell);
  CHECK_THAT(farmer_words_of("tests/extremes/three-animals.csv"),
             Catch::Contains("Only 3 animals") && Catch::Contains("the test is repeated"));
  CHECK(sign("huge-counts") == DrenchSign::works_with_care); // more eggs than animals carry
  CHECK_THAT(sentences("huge-counts"), Catch::Contains("about 1 was left after it"));
}

TEST_CASE("Names are shown as they are given and never become markup") {
  const std::string text = analysis_report(analysed("tests/extremes/names.csv"), quick());
  CHECK(text.find("<script") == std::string::npos);
  CHECK(text.find("<b>") == std::string::npos);
  const pugi::xml_document page = page_of("tests/extremes/names.csv");
  const std::string words = words_of(page);
  for (const char* name : {"<b>bold</b> & \"quoted\"", "=1+1", "שלום, עדר 🐑",
                           "<script>alert(1)</script>", "@SUM(A1)", "🐑 12"}) {
    INFO(name);
    CHECK_THAT(words, Catch::Contains(name));
  }
  CHECK_THAT(words, Catch::Contains(std::string(960, 'x')));
}

TEST_CASE("Every figure of the evidence says what it shows, and tables hold the same numbers") {
  const pugi::xml_document page = page_of("examples/brackenhill.csv");
  std::size_t figures = 0;
  for (const auto& found :
       page.select_nodes("//section[@class='evidence' or @class='appendix']//figure")) {
    const pugi::xml_node figure = found.node();
    ++figures;
    CHECK_FALSE(
        std::string_view(figure.select_node("p[@class='finding']").node().text().get()).empty());
    CHECK(figure.child("svg").child("title"));
    CHECK(figure.child("svg").child("desc"));
  }
  // All falls; and of three drenches the animals, doses and intervals, and the control's animals.
  CHECK(figures == 1 + 3 * 3 + 1);
  // Each lot of panels has its key, each method and animal a row.
  CHECK(page.select_nodes("//div[@class='panels']/following-sibling::*[1][@class='note key']")
            .size() == 3);
  CHECK(
      page.select_nodes("//caption[starts-with(., 'Limits of the fall by every method')]").size() ==
      1);
  CHECK(page.select_nodes("//caption[starts-with(., 'Each animal of')]").size() == 4);
}

TEST_CASE("The report opens with a line a drench, and one for each worm told apart") {
  const pugi::xml_document page = page_of("examples/brackenhill.csv");
  const pugi::xml_node strip = page.select_node("//section[@class='farmer']/*[2]").node();
  CHECK(std::string(strip.attribute("class").value()) == "strip");
  std::string words;
  for (const pugi::xml_node line : strip.children("li")) {
    CHECK(line.select_nodes(".//svg[contains(@class, 'sign')]").size() == 1);
    CHECK(line.select_nodes(".//span[@class='reason']").size() == 1);
    words += words_of(line);
  }
  words = std::regex_replace(words, std::regex(" +"), " ");
  CHECK_THAT(
      words,
      Catch::Contains(
          "white drench: Failing about 27 of 100 left; could be 20 to 40; some doses were short"));
  CHECK(strip.select_nodes("./li").size() == 3);
}

TEST_CASE("What is known of the trial beside its counts is shown, and else left to be written") {
  const auto heading = [](const ReportHeading& given) {
    pugi::xml_document page;
    REQUIRE(page.load_string(
        analysis_report(analysed("examples/brackenhill.csv"), quick(), given).c_str(),
        pugi::parse_full));
    return page;
  };
  const pugi::xml_document blank = heading({});
  CHECK(blank.select_nodes("//div[@class='entries']//span[@class='blank']").size() == 6);
  const pugi::xml_document filled = heading({"Hill", "", "A. Vet", "", "flotation, 15 EPG an egg"});
  CHECK(filled.select_nodes("//div[@class='entries']//span[@class='blank']").size() == 3);
  CHECK_THAT(words_of(filled), Catch::Contains("flotation, 15 EPG an egg"));
}

TEST_CASE("Ids are used once, and headings go down by one step at a time") {
  const pugi::xml_document page = page_of("examples/combination.csv");
  std::set<std::string> ids;
  for (const auto& node : page.select_nodes("//*[@id]"))
    CHECK(ids.insert(node.node().attribute("id").value()).second);
  CHECK_FALSE(ids.empty());
  int level = 0;
  for (const auto& node : page.select_nodes("//h1|//h2|//h3|//h4")) {
    const int next = node.node().name()[1] - '0';
    CHECK(next <= level + 1);
    level = next;
  }
}

TEST_CASE("The report names seed, version, settings and what was noted from memory") {
  const std::string words = words_of(page_of("examples/brackenhill.csv"));
  for (const char* part : {"from seed 1;", "nothing else is", "Intervals shown at 90%",
                           "to be checked against the published guideline",
                           "from memory: check against the published guideline",
                           "438 (not sampled after treatment)"}) {
    INFO(part);
    CHECK_THAT(words, Catch::Contains(part));
  }
}
