#include "intake/layout.hpp"

#include "support/edge_inputs.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

using namespace eggfall;

namespace {

std::string refusal(const std::string& toml) {
  return support::input_error(
      [&] { read_layout("schema = \"eggfall.layout/1\"\n" + toml, "own.toml"); });
}

Layout from(const std::string& toml) {
  return read_layout("schema = \"eggfall.layout/1\"\n" + toml, "own.toml");
}

} // namespace

TEST_CASE("A column is named by ours and theirs, parted at the first sign of equality") {
  Layout layout;
  add_column(layout, "animal=Ear tag");
  add_column(layout, " EPG_After:Nematodirus = Pre = post ");
  add_column(layout, "epg_before_2=Second");
  CHECK(layout.columns.at("animal") == "Ear tag");
  CHECK(layout.columns.at("epg_after:nematodirus") == "Pre = post");
  CHECK(layout.columns.at("epg_before_2") == "Second");
  add_column(layout, "epg:nematodirus=N");
  CHECK(layout.columns.at("epg:nematodirus") == "N");
}

TEST_CASE("A column that is none of ours is refused, with the nearest of them") {
  Layout layout;
  CHECK_THROWS_WITH(
      add_column(layout, "animl=Tag"),
      Catch::Matchers::StartsWith(
          "column: found the column \"animl\"; expected one of group, animal, when, eggs, epg, ") &&
          Catch::Matchers::EndsWith("(is animal meant?)"));
  for (const char* name : {"epg_befor=x", "epg_before_x=x", "weight_kg_2=x", "epg_before2x=x",
                           "group:nematodirus=x", "before=x", "epg2=x"})
    CHECK_THROWS_AS(add_column(layout, name), InputError);
  CHECK_THROWS_WITH(add_column(layout, "animal"),
                    "column: found \"animal\"; expected OURS=THEIRS, such as animal=\"Ear tag\"");
  CHECK_THROWS_AS(add_column(layout, "=Tag"), InputError);
  CHECK_THROWS_AS(add_column(layout, "animal= "), InputError);
  CHECK(layout.columns.empty());
}

TEST_CASE("A word of a cell may hold a sign of equality, and means one of two things") {
  Layout layout;
  add_cell(layout, "ND=none-seen");
  add_cell(layout, "<=50=NONE-SEEN");
  add_cell(layout, "x=not-sampled");
  CHECK(layout.cells.at("nd") == CellWord::none_seen);
  CHECK(layout.cells.at("<=50") == CellWord::none_seen);
  CHECK(layout.cells.at("x") == CellWord::not_sampled);
  CHECK_THROWS_WITH(add_cell(layout, "x=zero"),
                    "cell: found \"zero\"; expected none-seen or not-sampled");
  CHECK_THROWS_WITH(
      add_cell(layout, "x"),
      "cell: found \"x\"; expected WORD=none-seen or WORD=not-sampled, such as nd=none-seen");
}

TEST_CASE("Orders, units and times have the names that answers use") {
  CHECK(parse_date_order("day-first") == DateOrder::day_first);
  CHECK(parse_date_order("Month-First") == DateOrder::month_first);
  CHECK(parse_count_unit("epg") == CountUnit::epg);
  CHECK(parse_count_unit("eggs") == CountUnit::eggs);
  CHECK(parse_occasion("before") == Occasion::before);
  CHECK(parse_occasion("AFTER") == Occasion::after);
  CHECK(to_string(Occasion::after) == "after");
  CHECK(to_string(CountUnit::eggs) == "eggs");
  CHECK_THROWS_WITH(parse_date_order("dmy"),
                    "dates: found \"dmy\"; expected day-first or month-first");
  CHECK_THROWS_WITH(parse_count_unit("opg"), "counts: found \"opg\"; expected eggs or epg");
  CHECK_THROWS_WITH(parse_occasion("pre"), "occasions: found \"pre\"; expected before or after");
}

TEST_CASE("A layout that is written as TOML is read again as it was") {
  Layout layout = support::layout_of({{"column", "animal=Ear \"tag\" \\"},
                                      {"column", "epg_after=Nach"},
                                      {"cell", "<50=none-seen"},
                                      {"dates", "month-first"},
                                      {"counts", "eggs"},
                                      {"day-before", "-7"},
                                      {"day-after", "Tag 14"},
                                      {"mean-of", "3"},
                                      {"occasions", "after"},
                                      {"occasions", "before"}});
  layout.factor_before = 33.33;
  layout.factor_after = 15;
  layout.host = "goats";
  layout.control = "Blue";
  const Layout again = read_layout(layout_toml(layout), "kept.toml");
  CHECK(again.columns == layout.columns);
  CHECK(again.cells == layout.cells);
  CHECK(again.dates == layout.dates);
  CHECK(again.counts == layout.counts);
  CHECK(again.day_before == layout.day_before);
  CHECK(again.day_after == layout.day_after);
  CHECK(again.mean_of == layout.mean_of);
  CHECK(again.occasions == layout.occasions);
  CHECK_FALSE(again.factor);
  CHECK(again.factor_before == layout.factor_before);
  CHECK(again.factor_after == layout.factor_after);
  CHECK(again.host == layout.host);
  CHECK(again.control == layout.control);
  CHECK(layout_toml(again) == layout_toml(layout));
  CHECK(layout_toml({}) == "schema = \"eggfall.layout/1\"\n");
}

TEST_CASE("A day in a file may be a number or a text") {
  CHECK(from("day-before = 0\nday-after = \"D14\"\n").day_before == "0");
  CHECK(from("day-before = 0\nday-after = \"D14\"\n").day_after == "D14");
  CHECK(from("day-before = -7\n").day_before == "-7");
}

TEST_CASE("A layout that cannot be is refused at its line") {
  CHECK(refusal("colums = 1\n") ==
        "own.toml:2: column 10: found the unknown key \"colums\"; expected one of schema, "
        "columns, cells, dates, counts, day-before, day-after, mean-of, occasions, factor, "
        "factor-before, factor-after, host, control, treated, side-by-side, yes-no, head, cell, "
        "role, sum, month, weekday, host-word");
  CHECK(refusal("host = \"sheeg\"\n")
            .find("found \"sheeg\"; expected a host that is known (is sheep meant?)") !=
        std::string::npos);
  CHECK(refusal("dates = \"dmy\"\n") ==
        "own.toml:2: column 9 (dates): found \"dmy\"; expected day-first or month-first");
  CHECK(refusal("[cells]\nnd = \"zero\"\n") ==
        "own.toml:2: column 1 (cells): found \"zero\"; expected none-seen or not-sampled");
  CHECK(refusal("mean-of = 2.5\n") ==
        "own.toml:2: column 11 (mean-of): found 2.5; expected a whole number of counts");
  CHECK_THROWS_AS(from("mean-of = 1\n"), InputError);
  CHECK_THROWS_AS(from("factor = 0\n"), InputError);
  CHECK_THROWS_AS(from("occasions = [\"pre\"]\n"), InputError);
  CHECK_THROWS_AS(from("[columns]\nanimel = \"Tag\"\n"), InputError);
  CHECK_THROWS_AS(read_layout("schema = \"eggfall.layout/2\"\n", "own.toml"), InputError);
}

TEST_CASE("The owner's own words are known beside those that all know") {
  const Layout own = from("[[cell]]\nmeans = \"none-seen\"\nwords = [\"zilch\"]\n");
  CHECK(own.words().cell("zilch") == CellWord::none_seen);
  CHECK(own.words().cell("neg") == CellWord::none_seen);
  CHECK_FALSE(Layout().words().cell("zilch"));
}

TEST_CASE("What is said goes before what was kept, thing by thing") {
  Layout kept = from("dates = \"day-first\"\ncounts = \"epg\"\nfactor = 50\nhost = \"sheep\"\n"
                     "occasions = [\"before\", \"after\"]\n"
                     "[columns]\nanimal = \"Tag\"\ngroup = \"Mob\"\n[cells]\nnd = \"none-seen\"\n"
                     "x = \"not-sampled\"\n");
  Layout said;
  add_column(said, "animal=Ear tag");
  add_cell(said, "nd=not-sampled");
  said.dates = DateOrder::month_first;
  said.factor_after = 15;
  const Layout both = joined(said, kept);
  CHECK(both.columns.at("animal") == "Ear tag");
  CHECK(both.columns.at("group") == "Mob");
  CHECK(both.cells.at("nd") == CellWord::not_sampled);
  CHECK(both.cells.at("x") == CellWord::not_sampled);
  CHECK(both.dates == DateOrder::month_first);
  CHECK(both.counts == CountUnit::epg);
  CHECK(both.factor == 50);
  CHECK(both.factor_after == 15);
  CHECK(both.occasions == kept.occasions);
  CHECK(both.host == "sheep");
}

TEST_CASE("One factor that is said replaces those kept for each time") {
  Layout kept;
  kept.factor_before = 25;
  kept.factor_after = 15;
  Layout said;
  said.factor = 50;
  const Layout both = joined(said, kept);
  CHECK(both.factor == 50);
  CHECK_FALSE(both.factor_before);
  CHECK_FALSE(both.factor_after);
}

TEST_CASE("Edge inputs are no layout, and its edge forms are one") {
  support::check_edge_inputs_refused(
      "l.toml", [](const std::string& bytes) { read_layout(bytes, "l.toml"); });
  support::check_edge_forms_alike(
      "schema = \"eggfall.layout/1\"\nfactor = 50\n[columns]\nanimal = \"Ear tag\"\n",
      [](const std::string& bytes) { return layout_toml(read_layout(bytes, "l.toml")); });
}
