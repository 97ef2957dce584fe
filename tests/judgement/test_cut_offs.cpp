#include "eggfall/judgement/cut_offs.hpp"

#include "base/text.hpp"
#include "report/cut_offs_text.hpp"
#include "support/edge_inputs.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <sstream>

using namespace eggfall;

namespace {

const std::string own = R"(schema = "eggfall.cut-offs/1"
[[criteria]]
name = "north-valley"
rule = "two-one-sided"
level_percent = 95
source = "Rules of an invented valley, 2030"
  [[criteria.cut_off]]
  host = "alpacas"
  drug_class = ["BZ", "LV"]
  expected_percent = 97
  lower_percent = 91
  [[criteria.minimum]]
  animals = 8
)";

std::string edited(const std::string& from, const std::string& to) {
  std::string text = own;
  const auto found = text.find(from);
  REQUIRE(found != std::string::npos);
  return text.replace(found, from.size(), to);
}

Group horses(std::vector<DrugClass> classes, const std::string& worm) {
  Group group;
  group.host = "horses";
  group.classes = std::move(classes);
  group.worm = worm;
  return group;
}

const Criteria& named(const CutOffs& cut_offs, const std::string& name) {
  return *std::ranges::find(cut_offs.criteria, name, &Criteria::name);
}

} // namespace

namespace {

// What is pointed to must outlive the pointer.
template <typename Some>
concept can_be_chosen_from = requires(Some&& criteria, const Group& group) {
  choose_cut_off(std::forward<Some>(criteria), group);
  minima_for(std::forward<Some>(criteria), group);
};
template <typename Some>
concept has_windows = requires(Some&& cut_offs, const Group& group) {
  window_for(std::forward<Some>(cut_offs), group);
};
static_assert(can_be_chosen_from<const Criteria&> && !can_be_chosen_from<Criteria>);
static_assert(has_windows<const CutOffs&> && !has_windows<CutOffs>);

} // namespace

TEST_CASE("The published cut-offs are read, each with a source") {
  const CutOffs cut_offs = published_cut_offs();
  for (const char* name :
       {"waavp-1992", "waavp-2006", "waavp-2023-research", "waavp-2023-clinical"})
    CHECK(std::ranges::count(cut_offs.criteria, name, &Criteria::name) == 1);
  for (const Criteria& criteria : cut_offs.criteria)
    for (const CutOff& row : criteria.cut_offs) {
      CHECK_FALSE(row.citation.source.empty());
      CHECK(row.citation.provenance != Provenance::user);
    }
}

TEST_CASE("The row for a group is chosen by host, class and worm") {
  // Thresholds of Kaplan et al. 2023, from memory: horse strongyles BZ 99/95, pyrantel
  // 98/88, ML 99.9/96; sheep 99/95 in research and 95/90 in practice.
  const CutOffs cut_offs = published_cut_offs();
  const Criteria& research = named(cut_offs, "waavp-2023-research");
  CHECK(choose_cut_off(research, horses({DrugClass::bz}, "strongyles")).cut_off->lower == 0.95);
  CHECK(choose_cut_off(research, horses({DrugClass::pyr}, "strongyles")).cut_off->lower == 0.88);
  CHECK_THAT(choose_cut_off(research, horses({DrugClass::ml}, "strongyles")).cut_off->expected,
             support::close_to(0.999, support::other_order));
  Group sheep;
  sheep.host = "sheep";
  CHECK(choose_cut_off(research, sheep).cut_off->expected == 0.99);
  CHECK(choose_cut_off(named(cut_offs, "waavp-2023-clinical"), sheep).cut_off->expected == 0.95);

  const auto why = [&](const Group& group) { return choose_cut_off(research, group).why_not; };
  CHECK(why(horses({}, "strongyles")) == "its cut-offs for horses differ by drug class, and the "
                                         "class is not given (column class)");
  CHECK(why(horses({DrugClass::ml}, "")) ==
        "its cut-offs for horses differ by worm, and the worm is not given (column worm)");
  CHECK(why(horses({DrugClass::bz, DrugClass::ml}, "strongyles")) ==
        "it has no cut-off for horses, class BZ+ML and strongyles");
  CHECK(why(horses({DrugClass::si}, "strongyles")) == "it has no cut-off for horses and class SI");
  Group alpacas;
  alpacas.host = "alpacas";
  CHECK(why(alpacas) == "it has no cut-off for alpacas");
}

TEST_CASE("The window of the second sample follows class and drench") {
  const CutOffs cut_offs = published_cut_offs();
  Group group;
  group.classes = {DrugClass::ml};
  CHECK(window_for(cut_offs, group)->first_day == 14);
  group.drench = "Moxidectin oral";
  CHECK(window_for(cut_offs, group)->first_day == 17);
  group.classes = {DrugClass::bz, DrugClass::ml};
  CHECK(window_for(cut_offs, group) == nullptr);
  group.classes.clear();
  CHECK(window_for(cut_offs, group) == nullptr);
  // A drench is often named by its group alone.
  group.classes = {DrugClass::ml};
  group.drench.clear();
  group.name = "Moxidectin";
  CHECK(window_for(cut_offs, group)->first_day == 17);
}

TEST_CASE("A user's own file is read and shown as the user's") {
  const CutOffs cut_offs = read_cut_offs(own, "own.toml");
  REQUIRE(cut_offs.criteria.size() == 1);
  const Criteria& criteria = cut_offs.criteria[0];
  CHECK(criteria.title == "north-valley");
  CHECK(criteria.level == 0.95);
  CHECK(criteria.cut_offs[0].expected == 0.97);
  CHECK(criteria.cut_offs[0].citation.provenance == Provenance::user);
  CHECK(criteria.minima[0].animals == 8.0);
}

TEST_CASE("What is wrong with a cut-offs file is told with its place") {
  const auto message = [](const std::string& text) {
    return support::input_error([&] { read_cut_offs(text, "own.toml"); });
  };
  CHECK(message(edited("97", "93 %")).starts_with("own.toml:10: column "));
  CHECK(message(edited("eggfall.cut-offs/1", "other/2")) ==
        "own.toml:1: column 1: found the schema \"other/2\"; expected \"eggfall.cut-offs/1\"");
  CHECK(message(edited("animals = 8", "animals = \"8\"")) ==
        "own.toml:13: column 13 (animals): found a text; expected a number");
  CHECK(message(edited("animals = 8", "beasts = 8")) ==
        "own.toml:13: column 12 (minimum): found the unknown key \"beasts\"; expected one of host, "
        "drug_class, worm, animals, better_animals, mean_epg, eggs_counted_per_animal, source, "
        "provenance");
  CHECK(message(edited("= 91", "= 98")) ==
        "own.toml:7: column 3 (cut_off): found a lower threshold of 98 above the expected 97; "
        "expected the lower one no higher");
  CHECK(message(edited("= 97", "= 970")) ==
        "own.toml:10: column 22 (expected_percent): found 970; expected 50 to 100");
  CHECK(message(edited("\"LV\"", "\"XX\"")) ==
        "own.toml:9: column 16 (drug_class): found \"XX\"; expected BZ, LV, ML, AD, SI or PYR");
  CHECK(message(edited("two-one-sided", "by-eye")) ==
        "own.toml:4: column 8 (rule): found \"by-eye\"; expected one of two-one-sided, "
        "reduction-and-lower-limit, reduction-alone");
  CHECK(message(
            edited("rule = \"two-one-sided\"\nlevel_percent = 95", "rule = \"reduction-alone\"")) ==
        "own.toml:6: column 3 (cut_off): found a key lower_percent; expected expected_percent "
        "alone under the rule reduction-alone");
  CHECK(message(edited("two-one-sided", "reduction-alone")) ==
        "own.toml:2: column 1 (criteria): found a key level_percent; expected none under the rule "
        "reduction-alone");
  CHECK(message(edited("\"alpacas\"", "[\"any\"]")) ==
        "own.toml:8: column 11 (host): found \"any\" in an array; expected it alone, or names");
  CHECK(message(edited("lower_percent = 91", "")) ==
        "own.toml:7: column 3 (cut_off): found no key lower_percent; expected a lower threshold "
        "under the rule two-one-sided");
  CHECK(message(edited("level_percent = 95\n", "")) ==
        "own.toml:2: column 1 (criteria): found no key level_percent; expected level_percent = 90, "
        "for example");
  CHECK(
      message(edited("north-valley", "waavp-1992")) ==
      "own.toml:3: column 8 (name): found \"waavp-1992\"; expected a name of your own, since that "
      "is a published rule's");
  CHECK(message(edited("source = ", "provenance = \"published\"\nsource = ")) ==
        "own.toml:2: column 1 (criteria): found a key provenance; expected none; a file of your "
        "own is always shown as yours");
  CHECK(message("schema = \"eggfall.cut-offs/1\"\n") ==
        "own.toml:1: column 1: found no criteria; expected at least one section headed "
        "[[criteria]]");
  CHECK(message(own + own.substr(own.find("[[criteria]]"))) ==
        "own.toml:14: column 1 (criteria): found the name \"north-valley\" again; expected each "
        "name once");
  CHECK(message("schema = \"eggfall.cut-offs/1\"\ncriteria = 5\n") ==
        "own.toml:2: column 12 (criteria): found a number; expected sections headed [[criteria]]");
  CHECK_THROWS_AS(read_cut_offs(std::string(2U << 20U, '#'), "own.toml"), InputError);
  CHECK_THROWS_AS(read_cut_offs("", "own.toml"), InputError);
}

TEST_CASE("Numbers of a cut-offs file may lie at the ends of their ranges, and not beyond") {
  const auto read = [](const std::string& from, const std::string& to) {
    return read_cut_offs(edited(from, to), "own.toml");
  };
  CHECK(read("_percent = 95", "_percent = 50").criteria[0].level == 0.5);
  CHECK_THAT(read("_percent = 95", "_percent = 99.9").criteria[0].level, support::close_to(0.999));
  CHECK_THROWS_AS(read("_percent = 95", "_percent = 49.9"), InputError);
  CHECK_THROWS_AS(read("_percent = 95", "_percent = 100"), InputError);
  // A lower threshold may be the expected efficacy.
  CHECK(read("= 91", "= 97").criteria[0].cut_offs[0].lower == 0.97);
  const auto minimum = [&](const std::string& line) {
    return read("animals = 8", line).criteria[0].minima[0];
  };
  CHECK(minimum("animals = 1").animals == 1.0);
  CHECK(minimum("better_animals = 1").better_animals == 1.0);
  CHECK(minimum("mean_epg = 0").mean_epg == 0.0);
  CHECK(minimum("mean_epg = 1e6").mean_epg == 1e6);
  CHECK(minimum("eggs_counted_per_animal = 0").eggs_counted_per_animal == 0.0);
  for (const std::string beyond : {"animals = 0.9", "better_animals = 0.9", "mean_epg = -0.1",
                                   "mean_epg = 1000000.5", "eggs_counted_per_animal = -0.1"})
    CHECK_THROWS_AS(minimum(beyond), InputError);
}

TEST_CASE("A threshold is a percentage of a drench that works, and no share") {
  const auto message = [](const std::string& from, const std::string& to) {
    return support::input_error([&] { read_cut_offs(edited(from, to), "own.toml"); });
  };
  CHECK(
      message("= 97", "= 0.97") ==
      "own.toml:10: column 22 (expected_percent): found 0.97; expected a percentage above 1, such "
      "as 95, from 50 to 100: for a share, write 100 times as much");
  CHECK(message("= 91", "= 1")
            .starts_with(
                "own.toml:11: column 19 (lower_percent): found 1; expected a percentage above 1"));
  CHECK(message("= 91", "= 1.5") ==
        "own.toml:11: column 19 (lower_percent): found 1.5; expected 50 to 100");
  CHECK(message("= 91", "= 49.9").ends_with("found 49.9; expected 50 to 100"));
  CHECK(message("= 91", "= 0").ends_with("found 0; expected 50 to 100"));
  CHECK(message("= 91", "= nan").ends_with("expected 50 to 100"));
  CHECK(read_cut_offs(edited("= 91", "= 50"), "own.toml").criteria[0].cut_offs[0].lower == 0.5);
}

TEST_CASE("A threshold that no limit can reach is refused, and one that a fall can reach is not") {
  const std::string rest = ", such as 99.9: the limits of a perfect drench stay below 100";
  const auto message = [](const std::string& text) {
    return support::input_error([&] { read_cut_offs(text, "own.toml"); });
  };
  CHECK(message(edited("= 97", "= 100")) == "own.toml:10: column 22 (expected_percent): found 100; "
                                            "expected below 100 under the rule two-one-sided" +
                                                rest);
  std::string text = edited("two-one-sided", "reduction-and-lower-limit");
  text.replace(text.find("= 97"), 4, "= 100");
  CHECK(read_cut_offs(text, "own.toml").criteria[0].cut_offs[0].expected == 1);
  text.replace(text.find("= 91"), 4, "= 100");
  CHECK(message(text) == "own.toml:11: column 19 (lower_percent): found 100; expected below 100 "
                         "under the rule reduction-and-lower-limit" +
                             rest);
  text = edited("rule = \"two-one-sided\"\nlevel_percent = 95", "rule = \"reduction-alone\"");
  text.replace(text.find("97\n  lower_percent = 91"), 23, "100");
  CHECK(read_cut_offs(text, "own.toml").criteria[0].cut_offs[0].expected == 1);
  CHECK(read_cut_offs(edited("= 97", "= 99.9"), "own.toml").criteria.size() == 1);
}

TEST_CASE("An own rule has neither the name nor the title of a published one") {
  const auto message = [](const std::string& line) {
    return support::input_error(
        [&] { read_cut_offs(edited("name = \"north-valley\"", line), "own.toml"); });
  };
  CHECK(
      message("name = \"own\"\ntitle = \"WAAVP 2023, clinical\"") ==
      "own.toml:4: column 9 (title): found \"WAAVP 2023, clinical\"; expected a title of your own, "
      "since that is a published rule's");
  CHECK(message("name = \"own\"\ntitle = \"  waavp 2023,  CLINICAL \"")
            .starts_with("own.toml:4: column 9 (title): "));
  // A name is the title where there is none.
  CHECK(message("name = \"WAAVP 1992\"").starts_with("own.toml:3: column 8 (name): "));
  CHECK(message("name = \"WAAVP-1992\"").starts_with("own.toml:3: column 8 (name): "));
  CHECK(read_cut_offs(edited("name = \"north-valley\"",
                             "name = \"own\"\ntitle = \"After WAAVP 2023, clinical\""),
                      "own.toml")
            .criteria[0]
            .title == "After WAAVP 2023, clinical");
}

TEST_CASE("A row that earlier rows leave no group is refused") {
  const auto read = [](const std::vector<std::string>& scopes) {
    std::string text = own.substr(0, own.find("  [[criteria.cut_off]]"));
    for (const std::string& scope : scopes)
      text += "[[criteria.cut_off]]\nexpected_percent = 95\nlower_percent = 90\n" + scope + "\n";
    return read_cut_offs(text, "own.toml").criteria[0].cut_offs.size();
  };
  const std::string horses = R"(host = "horses")";
  CHECK(support::input_error([&] {
          read({"", horses});
        }) ==
        "own.toml:11: column 1 (cut_off): found row 2, which can never be used: row 1 fits all its "
        "groups; expected it before row 1, since the first row that fits a group is used, or left "
        "out");
  CHECK(read({horses, ""}) == 2);

  // Of the same host, class or worm, or more of them.
  CHECK_THROWS_AS(read({horses, horses}), InputError);
  CHECK_THROWS_AS(read({horses, horses + "\nworm = \"strongyles\""}), InputError);
  CHECK_THROWS_AS(read({horses, horses + "\ndrug_class = \"ML\""}), InputError);
  CHECK_THROWS_AS(read({R"(drug_class = ["BZ", "ML"])", R"(drug_class = "ML")"}), InputError);
  CHECK_THROWS_AS(read({R"(worm = "strongyles")", R"(worm = "strongyles")"}), InputError);
  CHECK_THROWS_AS(read({R"(host = ["sheep", "horses"])", "host = \"cattle\"", horses}), InputError);

  // Something is left to the second row.
  CHECK(read({horses, R"(host = ["horses", "sheep"])"}) == 2);
  CHECK(read({R"(drug_class = "BZ")", R"(drug_class = ["BZ", "ML"])"}) == 2);
  CHECK(read({R"(worm = "strongyles")", R"(worm = "ascarids")"}) == 2);
  CHECK(read({horses + "\ndrug_class = \"ML\"", horses}) == 2);
  CHECK(read({horses + "\nworm = \"strongyles\"", horses}) == 2);
  CHECK(read({horses + "\ndrug_class = \"ML\"", R"(drug_class = "ML")"}) == 2);

  // Two rows may take all the hosts of a third between them.
  CHECK(
      support::input_error([&] {
        read({horses, R"(host = "sheep")", R"(host = ["sheep", "horses"])"});
      })
          .find(
              "found row 3, which can never be used: rows 1 and 2 fit all its groups; expected it "
              "before rows 1 and 2, since") != std::string::npos);
}

TEST_CASE("A cut-offs file may ask for an interval and name the source of a row") {
  const auto criteria = [](const std::string& from, const std::string& to) {
    return read_cut_offs(edited(from, to), "own.toml").criteria[0];
  };
  const std::string source = "source = \"Rules of an invented valley, 2030\"\n";
  CHECK_FALSE(criteria("8", "9").method);
  CHECK(criteria(source, source + "interval = \"paired-log-ratio\"\n").method ==
        Method::paired_log_ratio);
  CHECK(support::input_error([&] { criteria(source, source + "interval = \"by-eye\"\n"); }) ==
        "own.toml:2: column 1 (criteria): found the interval \"by-eye\"; expected one of "
        "bootstrap-percentile, bootstrap-bca, log-ratio-1992, paired-log-ratio, "
        "pooled-count-exact, pooled-count-jeffreys");
  CHECK(support::input_error([&] {
          criteria("rule = \"two-one-sided\"\nlevel_percent = 95",
                   "rule = \"reduction-alone\"\ninterval = \"bootstrap-bca\"");
        }).find("found a key interval; expected none under the rule reduction-alone") !=
        std::string::npos);
  const Criteria sourced = criteria("animals = 8", "animals = 8\nsource = \"Another\"");
  CHECK(sourced.minima[0].citation.source == "Another");
  CHECK(sourced.cut_offs[0].citation.source == "Rules of an invented valley, 2030");
  CHECK(sourced.minima[0].citation.provenance == Provenance::user);
}

TEST_CASE("A window of one day is a window, and one that ends before it begins is not") {
  const auto windows = [](const std::string& days) {
    return read_cut_offs(own + "[[sampling_window]]\ndrug_class = \"LV\"\nsource = \"A\"\n" + days,
                         "own.toml")
        .windows;
  };
  const auto one = windows("first_day = 7\nlast_day = 7\n");
  REQUIRE(one.size() == 1);
  CHECK(one[0].first_day == 7);
  CHECK(one[0].last_day == 7);
  CHECK(support::input_error([&] {
          windows("first_day = 8\nlast_day = 7\n");
        }).find("found day 8 to day 7; expected the first day no later than the last") !=
        std::string::npos);
}

TEST_CASE("A row for several classes fits a drench of any or all of them") {
  const CutOffs cut_offs = read_cut_offs(own, "own.toml"); // BZ and LV, alpacas
  const auto fits = [&](const std::string& host, std::vector<DrugClass> classes) {
    Group group;
    group.host = host;
    group.classes = std::move(classes);
    return choose_cut_off(cut_offs.criteria[0], group).cut_off != nullptr;
  };
  CHECK(fits("alpacas", {DrugClass::bz}));
  CHECK(fits("alpacas", {DrugClass::bz, DrugClass::lv}));
  CHECK_FALSE(fits("alpacas", {DrugClass::bz, DrugClass::ml}));
  CHECK_FALSE(fits("alpacas", {DrugClass::ml}));
  CHECK_FALSE(fits("alpacas", {}));
  CHECK_FALSE(fits("sheep", {DrugClass::bz}));
  CHECK_FALSE(fits("", {DrugClass::bz}));
}

TEST_CASE("Minima are those of the group's own host") {
  // Coles et al. 1992: 10 animals, better 15, and a mean of 150 EPG, in sheep and goats.
  const CutOffs cut_offs = published_cut_offs();
  const Criteria& criteria = named(cut_offs, "waavp-1992");
  Group group;
  group.host = "goats";
  REQUIRE(minima_for(criteria, group).size() == 1);
  CHECK(minima_for(criteria, group)[0]->animals == 10.0);
  group.host = "cattle";
  CHECK(minima_for(criteria, group).empty());
}

TEST_CASE("Listed and explained cut-offs fit 80 columns") {
  const CutOffs cut_offs = published_cut_offs();
  std::string text = cut_offs_list(cut_offs);
  for (const Criteria& criteria : cut_offs.criteria)
    text += criteria_explained(criteria);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    CHECK(line.size() <= 80);
  CHECK(flowing(text).find("from memory: check against the published guideline") !=
        std::string::npos);
}

TEST_CASE("Edge inputs are no cut-offs, and their edge forms are some") {
  support::check_edge_inputs_refused(
      "c.toml", [](const std::string& bytes) { read_cut_offs(bytes, "c.toml"); });
  support::check_edge_forms_alike(
      "schema = \"eggfall.cut-offs/1\"\n[[criteria]]\nname = \"own\"\ntitle = \"Own\"\n"
      "rule = \"two-one-sided\"\nlevel_percent = 95\nsource = \"our vets\"\n"
      "[[criteria.cut_off]]\nexpected_percent = 98\nlower_percent = 90\n",
      [](const std::string& bytes) { return cut_offs_list(read_cut_offs(bytes, "c.toml")); });
}
