#include "report/farmer_letter.hpp"

#include "base/text.hpp"
#include "eggfall/judgement/analyse.hpp"
#include "eggfall/trial/read_cultures.hpp"
#include "eggfall/trial/read_trials.hpp"
#include "formats/drawing/document_page.hpp"
#include "formats/word_document.hpp"
#include "formats/zip_archive.hpp"
#include "report/farmer_words.hpp"
#include "support/invented_trials.hpp"
#include "support/page_words.hpp"
#include "support/support.hpp"
#include "support/written_trial.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <fstream>
#include <set>
#include <sstream>
#include <tuple>
#include <utility>

using namespace eggfall;

namespace {

std::string file_text(const std::string& path) {
  std::ifstream file(EGGFALL_SOURCE_DIR "/" + path, std::ios::binary);
  REQUIRE(file);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::vector<TrialAnalysis> judged(TrialTable table, bool units_confirmed = false) {
  AnalysisSettings settings;
  settings.simulations = 0;
  settings.units_confirmed = units_confirmed;
  std::vector<TrialAnalysis> trials;
  for (const Trial& trial : table.trials)
    trials.push_back(analyse(trial, published_cut_offs(), settings));
  return trials;
}

std::vector<TrialAnalysis> of_file(const std::string& path) {
  return judged(read_trials(file_text(path), path, {}));
}

/// Of a table that names neither factor nor, perhaps, host.
TrialAnalysis of_table(const std::string& table, const std::string& larvae = "",
                       bool units_confirmed = false) {
  ReadOptions options;
  options.factor_before = options.factor_after = MultiplicationFactor(15);
  options.host = "sheep";
  TrialTable trials = read_trials(table, "t.csv", options);
  if (!larvae.empty())
    trials = read_cultures(larvae, "l.csv", std::move(trials.trials));
  return judged(std::move(trials), units_confirmed).front();
}

pugi::xml_document page_of(const std::vector<TrialAnalysis>& trials,
                           const ReportHeading& heading = {}) {
  pugi::xml_document page;
  REQUIRE(
      page.load_string(document_page(farmer_letters(trials, heading)).c_str(), pugi::parse_full));
  return page;
}

std::string flat_words(pugi::xml_node node) {
  return flowing(support::words_of(node));
}

std::string letter_words(const TrialAnalysis& trial) {
  return flat_words(page_of({trial}).select_node("//main").node());
}

std::string without_blanks(std::string text) {
  std::erase_if(text, [](char c) { return c == ' ' || c == '\n'; });
  return text;
}

std::string words_in_document(const TextDocument& document) {
  const std::string file = word_document(document);
  pugi::xml_document parsed;
  const auto part = ZipArchive(file, "t.docx").part("word/document.xml");
  REQUIRE(part);
  REQUIRE(parsed.load_string(part->c_str(), pugi::parse_full));
  std::string text;
  for (const pugi::xpath_node& each : parsed.select_nodes("//w:t"))
    text += each.node().child_value();
  return without_blanks(text);
}

/// The answers of a table's second column.
std::vector<std::string> answers(const TrialAnalysis& trial) {
  std::vector<std::string> found;
  const pugi::xml_document page = page_of({trial});
  for (const pugi::xpath_node& each : page.select_nodes("//tbody/tr/td[1]"))
    found.push_back(flat_words(each.node()));
  return found;
}

const std::string head = "group,animal,eggs_before,eggs_after";

/// Twelve animals of which so many eggs of 100 are left: "name,animal,before,after" and what stands
/// behind.
std::string rows(int percent_left, const std::string& behind = "", const std::string& name = "w",
                 int first_tag = 1, int times = 1) {
  std::string text;
  double due = 0;
  int tag = first_tag;
  for (const int before : {14, 33, 22, 9, 41, 16, 17, 25, 30, 11, 28, 25}) {
    due += before * percent_left / 100.0;
    const int after = static_cast<int>(due);
    due -= after;
    text += fmt::format("{},{},{},{}{}\n", name, tag++, times * before, times * after, behind);
  }
  return text;
}

struct Barred {
  BarCode code;
  TrialAnalysis trial;
};

/// One trial for each bar, whose counts alone would give a class; the tables of test_find_bars.
std::vector<Barred> barred_trials() {
  const std::string dosed = head + ",class,weight_kg,dose_ml,label_ml_per_kg\n";
  const std::string larvae = "group,time,worm,larvae\nw,before,haemonchus,12\n"
                             "w,before,trichostrongylus,88\nw,after,haemonchus,96\n"
                             "w,after,trichostrongylus,4\n";
  std::string few = head + "\n";
  int tag = 0;
  for (const int eggs : {2, 1, 3, 0, 4, 2, 1, 3, 2, 1})
    few += fmt::format("w,{},{},0\n", ++tag, eggs);
  return {
      {BarCode::not_covered, of_table(head + ",worm\n" + rows(1, ",liver fluke"))},
      {BarCode::not_covered, of_table(head + ",host\n" + rows(1, ",alpaca"))},
      {BarCode::units_in_doubt, of_table(head + "\n" + rows(4, "", "w", 1, 50))},
      {BarCode::units_in_doubt, of_table("group,animal,eggs_after,eggs_before\n" + rows(5))},
      {BarCode::day,
       of_table(head + ",class,date_treated,date_after\n" + rows(1, ",BZ,2031-05-01,2031-05-06"))},
      {BarCode::control,
       of_table(head + ",role\n" + rows(4, ",treated") + rows(60, ",control", "keepers", 101))},
      {BarCode::missing, of_table(head + "\n" + rows(4) + "w,90,60,\nw,91,55,\nw,92,70,\n")},
      {BarCode::dose, of_table(dosed + "w,90,40,12,BZ,30,6,0.2\n" + rows(40, ",BZ,50,6,0.2"))},
      {BarCode::dose, of_table(dosed + rows(1, ",BZ,30,9,0.2"))},
      {BarCode::goat_dose, of_table(head + ",host,class,weight_kg,dose_ml,label_ml_per_kg\n" +
                                    rows(40, ",goats,BZ,30,6,0.2"))},
      {BarCode::few_animals, of_table(head + "\nw,1,140,90\nw,2,133,80\nw,3,151,99\nw,4,128,91\n")},
      {BarCode::few_eggs, of_table(few)},
      {BarCode::narrow_drench, of_table(head + ",drench\n" + rows(1, ",closantel"))},
      {BarCode::surviving_worm, of_table(head + "\n" + rows(3), larvae)},
  };
}

/// What no farmer should have to read: terms of statistics, and what is for whoever runs the
/// program.
void check_plain(const TrialAnalysis& trial) {
  const std::string words = lower_case(letter_words(trial));
  CAPTURE(words);
  for (const char* term :
       {"posterior", "bootstrap", "prior", "interval", "probability", "likelihood", "confidence",
        "lower limit", "upper limit", "significan", "estimate", "--", "column", "epg_",
        "(practice)", "from memory", "mean epg"})
    CHECK(words.find(term) == std::string::npos);
}

} // namespace

TEST_CASE("A letter tells which trial, when, each drench's answer, and what to do") {
  const TrialAnalysis trial = of_file("examples/brackenhill.csv").front();
  const std::string words = letter_words(trial);
  for (const char* part : {"Date:",
                           "To:",
                           "From:",
                           "Signature:",
                           "Do the drenches still work? trial",
                           "First sample on Mon 3 March 2031",
                           "second sample on Mon 17 March 2031",
                           "white drench: Failing",
                           "clear drench: Works",
                           "yellow drench: Can't tell yet",
                           "about 27 of every 100 worm eggs were left",
                           "it may be 20 to 40. That is too many.",
                           "No worm egg was found after the drench.",
                           "What to do:",
                           "Wear gloves",
                           "withholding period",
                           "do not replace, the judgement of a veterinarian",
                           "How this was worked out:",
                           "WAAVP 2023, clinical",
                           "to hold the truth 90 times in 100"}) {
    INFO(part);
    CHECK_THAT(words, Catch::Contains(part));
  }
  for (const GroupAnalysis& group : trial.groups)
    CHECK_THAT(words, Catch::Contains(flowing(group.advice.next_step.text())));
  check_plain(trial);
}

TEST_CASE("A letter's table is as its sentences are") {
  const pugi::xml_document page = page_of(of_file("examples/brackenhill.csv"));
  std::vector<std::string> lines;
  for (const pugi::xpath_node& each : page.select_nodes("//tr"))
    lines.push_back(flat_words(each.node()));
  CHECK(lines == std::vector<std::string>{
                     "Drench Answer Left of 100 eggs Could be",
                     "white drench (benzimidazole oral) Failing about 27 20 to 40",
                     "clear drench (avermectin oral) Works none found fewer than 1",
                     "yellow drench (levamisole oral) Can't tell yet, looks poor about 7 3 to 14"});
}

TEST_CASE("A letter names who it is to and from where the heading does") {
  const std::vector<TrialAnalysis> trials = of_file("examples/brackenhill.csv");
  ReportHeading heading;
  heading.owner = "A. <Owner>";
  heading.farm = "Far Hill";
  heading.veterinarian = "B. Vet";
  const std::string words = flat_words(page_of(trials, heading).select_node("//main").node());
  CHECK_THAT(words, Catch::StartsWith("Date: To: A. <Owner>, Far Hill From: B. Vet "));
  heading.owner.clear();
  CHECK_THAT(flat_words(page_of(trials, heading).select_node("//main").node()),
             Catch::StartsWith("Date: To: Far Hill From: B. Vet "));
}

TEST_CASE("Both forms of a letter have the same words") {
  std::vector<std::vector<TrialAnalysis>> all{of_file("examples/brackenhill.csv"),
                                              of_file("examples/region.csv"),
                                              of_file("examples/pools.csv"),
                                              of_file("tests/extremes/names.csv"),
                                              of_file("tests/extremes/counts-rise.csv"),
                                              {support::written_trial()}};
  for (Barred& each : barred_trials())
    all.push_back({std::move(each.trial)});
  for (const std::vector<TrialAnalysis>& trials : all) {
    INFO(trials.front().trial);
    const TextDocument letters = farmer_letters(trials);
    CHECK(letters.parts.size() == trials.size());
    const std::string in_page =
        without_blanks(support::words_of(page_of(trials).select_node("//main").node()));
    CHECK(in_page == words_in_document(letters));
    CHECK(in_page.size() > 500);
  }
}

TEST_CASE("A barred trial comforts nobody: the bar speaks before any number") {
  std::set<BarCode> seen;
  for (const Barred& each : barred_trials()) {
    const GroupAnalysis& group = each.trial.groups.front();
    const Standing& standing = group.judgement.standing;
    REQUIRE_FALSE(standing.bars.empty());
    const Bar& bar = standing.bars.front();
    INFO(to_string(bar.code));
    CHECK(bar.code == each.code);
    seen.insert(bar.code);
    const std::string answer = answers(each.trial).front();
    const bool fails = bar.code == BarCode::surviving_worm;
    CHECK_THAT(answer, Catch::StartsWith(fails ? "Fails against haemonchus" : "Can't tell yet"));
    const std::string words = letter_words(each.trial);
    const std::string text = words.substr(words.find("w: "));
    for (const char* comfort :
         {"Works", "\u2713", "That is what a drench that works does", "nothing speaks against"})
      CHECK((fails ? text : words).find(comfort) == std::string::npos);
    const std::size_t said = text.find(bar.plain);
    REQUIRE(said != std::string::npos);
    for (const char* number : {"of every 100", "orm egg", "For every 100", "more worm eggs"})
      CHECK(said < text.find(number));
    if (!fails)
      CHECK_THAT(text, Catch::Contains(bar.code == BarCode::control
                                           ? "As far as the untreated animals tell: "
                                           : "The counts alone, which do not decide here: "));
    CHECK_THAT(text, Catch::Contains("What to do: "));
    // Where the counts alone call the drench poor, it is not cleared.
    if (finds_resistance(standing.by_counts_alone) && !fails)
      CHECK_THAT(text, Catch::Contains("do not rely on this drench alone."));
    check_plain(each.trial);
  }
  CHECK(seen == std::set<BarCode>(all_bar_codes.begin(), all_bar_codes.end()));
}

TEST_CASE("What speaks against a good result comes before its numbers") {
  // Confirmed units are a reason for care, and a warning.
  const TrialAnalysis confirmed = of_table(head + "\n" + rows(1, "", "w", 1, 50), "", true);
  REQUIRE(confirmed.groups.front().judgement.standing.sign == DrenchSign::works_with_care);
  const std::string words = letter_words(confirmed);
  CHECK(words.find("said to be eggs seen") < words.find("Of every 100 worm eggs"));
  CHECK_THAT(answers(confirmed).front(), Catch::StartsWith("Works, but take care: "));
  // So is what the table does not say.
  const TrialAnalysis good = of_table(head + "\n" + rows(1));
  REQUIRE(good.groups.front().judgement.standing.sign == DrenchSign::works);
  const std::string of_good = letter_words(good);
  CHECK(of_good.find("This holds if the season") < of_good.find("Of every 100 worm eggs"));
  CHECK(answers(good).front() == "Works: holds with an if, see the text");
  // Bad news are not put off.
  const std::string poor = letter_words(of_table(head + "\n" + rows(40)));
  CHECK(poor.find("That is too many.") < poor.find("This holds if the season"));
}

TEST_CASE("Eggs that came back too soon are told before the first number, and in the table") {
  // Horses drenched with ivermectin, expected back in week 6 to 8: one egg on day 14, half by
  // week 4.
  Group group = support::group("ivm", {54, 34, 106, 217, 74, 40, 21, 159}, {}, 5, 5);
  group.host = "horses";
  group.worm = "strongyles";
  group.drench = "ivermectin";
  group.classes = {DrugClass::ml};
  const std::vector<std::uint32_t> back{30, 18, 60, 100, 40, 21, 9, 80};
  for (std::size_t i = 0; i < back.size(); ++i)
    for (const auto& [day, eggs] : {std::pair{14, i == 7 ? 1U : 0U}, {28, back[i]}})
      group.animals[i].visits.push_back({day, {EggsSeen(eggs), MultiplicationFactor(5)}, {}});
  AnalysisSettings settings;
  settings.simulations = 0;
  const TrialAnalysis trial = analyse({"yard", {group}}, published_cut_offs(), settings);
  REQUIRE(trial.groups[0].judgement.standing.verdict_class == VerdictClass::susceptible);
  const std::string said =
      "orked on day 14, but eggs were back too soon (week 4; 6 to 8 weeks expected)";
  const std::string words = letter_words(trial);
  const std::size_t told = words.find('W' + said + '.');
  REQUIRE(told != std::string::npos);
  CHECK(told < words.find("worm eggs before the drench"));
  CHECK_THAT(answers(trial).front(), Catch::Contains(": w" + said));
  CHECK_THAT(short_reason(trial.groups[0]), Catch::StartsWith('w' + said));
}

TEST_CASE("What untreated animals did comes before the good result that hangs on it") {
  // 12 of 100 left where the untreated have four times what they had: the counts alone are poor.
  const TrialAnalysis cleared =
      of_table(head + ",role\n" + rows(12, ",treated") + rows(420, ",control", "keepers", 101));
  const Standing& good = cleared.groups.front().judgement.standing;
  REQUIRE(good.sign == DrenchSign::works_with_care);
  REQUIRE(gives_own_verdict(good.bars.front()));
  const std::string words = letter_words(cleared);
  const std::size_t said = words.find(good.bars.front().plain);
  CHECK(said < words.find("Set against the untreated animals"));
  CHECK(words.find(good.bars.front().plain, said + 1) == std::string::npos);
  // 4 of 100 left where the untreated have 24: a poor drench, and that comes first.
  const TrialAnalysis failing =
      of_table(head + ",role\n" + rows(4, ",treated") + rows(24, ",control", "keepers", 101));
  const Standing& poor = failing.groups.front().judgement.standing;
  REQUIRE(poor.sign == DrenchSign::failing);
  const std::string of_poor = letter_words(failing);
  CHECK(of_poor.find("That is too many.") < of_poor.find(poor.bars.front().plain));
  CHECK_THAT(of_poor, Catch::Contains(poor.bars.front().plain));
}

TEST_CASE("What is said of single animals is said of their own drench") {
  // Both drenches have an animal 8 that keeps its eggs, and six animals, which are few.
  std::string table = head + "\n";
  for (const char* group : {"white", "clear"})
    for (const auto& [animal, before, after] :
         {std::tuple{1, 30, 1}, {2, 41, 0}, {3, 25, 1}, {4, 38, 0}, {5, 29, 1}, {8, 33, 33}})
      table += fmt::format("{},{},{},{}\n", group, animal, before, after);
  const std::string words = letter_words(of_table(table));
  const auto count = [&](const std::string& what) {
    std::size_t found = 0;
    for (std::size_t position = words.find(what); position != std::string::npos;
         position = words.find(what, position + 1))
      ++found;
    return found;
  };
  CHECK(count("Animal 8 alone carried") == 2);
  CHECK(count("Fewer animals were tested than the rules ask for") == 1);
}

TEST_CASE("What all drenches share is said once, before any of them") {
  const TrialAnalysis trial = of_file("examples/combination.csv").front();
  const std::string words = letter_words(trial);
  const std::size_t said = words.find("What this letter says holds if the season alone");
  REQUIRE(said != std::string::npos);
  CHECK(said < words.find("white: Failing"));
  CHECK(words.find("This holds if") == std::string::npos);
}

TEST_CASE("Worms that were told apart have rows of their own, and the survivor its numbers") {
  TrialTable table = read_trials(file_text("examples/mixed-worms.csv"), "m.csv", {});
  table =
      read_cultures(file_text("examples/mixed-worms-larvae.csv"), "l.csv", std::move(table.trials));
  const TrialAnalysis trial = judged(std::move(table)).front();
  CHECK(answers(trial) == std::vector<std::string>{"Fails against haemonchus", "Failing", "Works",
                                                   "Works", "Works", "Fails against nematodirus",
                                                   "Works", "Works", "Works", "Failing"});
  const std::string words = letter_words(trial);
  CHECK(words.find("Of haemonchus: about 28 of 100 left; could be 14 to 59.") <
        words.find("Of the worms that were counted together: of every 100"));
  check_plain(trial);
}

TEST_CASE("Letters on trials of every kind stay plain") {
  for (const std::size_t animals : {2, 4, 8})
    for (const TrialAnalysis& trial :
         judged(read_trials(invented_trials(30, animals, animals), "t", {})))
      check_plain(trial);
  for (const char* name : {"no-egg-after", "counts-rise", "three-animals", "huge-counts"})
    check_plain(of_file(std::string("tests/extremes/") + name + ".csv").front());
}

TEST_CASE("A trial that compares nothing gets a letter that says so") {
  const TrialAnalysis trial = of_table(head + "\nw,1,20,\nw,2,30,\n");
  const std::string words = letter_words(trial);
  CHECK_THAT(words, Catch::Contains("Nothing could be compared") &&
                        Catch::Contains("there was nothing to compare them with") &&
                        Catch::Contains("w Can't tell yet not known not known"));
  CHECK(words.find("Works") == std::string::npos);
}

TEST_CASE("A letter says that a rule noted from memory is still to be checked, and of no other") {
  const std::string unchecked = "numbers of that rule are still to be checked";
  TrialAnalysis trial = of_file("examples/brackenhill.csv").front();
  REQUIRE(trial.groups.front().judgement.first_verdict().citation.provenance == Provenance::memory);
  CHECK_THAT(letter_words(trial), Catch::Contains(unchecked));
  for (GroupAnalysis& group : trial.groups)
    for (Verdict& verdict : group.judgement.verdicts)
      verdict.citation.provenance = Provenance::published;
  CHECK(letter_words(trial).find(unchecked) == std::string::npos);
}

TEST_CASE("Advice to whoever runs the program is put for a farmer, and no other is touched") {
  const auto asked = [](const std::string& table) { return letter_words(of_table(table)); };
  // A step without an option's name is the judgement's own.
  CHECK_THAT(asked(head + ",worm\n" + rows(1, ",liver fluke")),
             Catch::Contains("Go over the numbers with your veterinarian: what tells of these is "
                             "another test."));
  CHECK_THAT(asked(head + ",host\n" + rows(1, ",alpaca")),
             Catch::Contains("What to do: Go over the numbers with your veterinarian. How"));
  // Swapped columns show a rise, which is not to be taken for nothing.
  CHECK_THAT(asked("group,animal,eggs_after,eggs_before\n" + rows(5)),
             Catch::Contains("the bench sheet must be looked at first. Until the test is repeated, "
                             "do not rely on this drench alone."));
  // No rule, no word of one.
  CHECK(asked(head + ",worm\n" + rows(1, ",liver fluke")).find("judged by") == std::string::npos);
}
