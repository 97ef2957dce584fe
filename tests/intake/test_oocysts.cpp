#include "intake/oocysts.hpp"

#include "intake/open_question.hpp"
#include "support/read_tables.hpp"
#include "support/support.hpp"

#include <string>

using namespace eggfall;
using support::ReadText;

namespace {

/// The names of the columns that are used; the look for oocysts is the last thing done to a sheet.
std::string columns_of(const SheetReading& reading) {
  std::string out;
  for (const ColumnReading& column : reading.columns)
    if (column.kind != ColumnReading::Kind::unused)
      out += (out.empty() ? "" : " ") +
             our_name(column, column.time.occasion
                                  ? std::optional(SampleTime{*column.time.occasion, 0})
                                  : std::nullopt);
  return out;
}

std::string columns_of(const std::string& text) {
  return columns_of(ReadText(text).reading);
}

std::string refusal(const std::string& text) {
  return support::input_error([&] {
    const ReadText read(text);
    read.problems.throw_if_any();
  });
}

} // namespace

TEST_CASE(
    "OPG is eggs per gram where another word is of a language that says so, or is asked about") {
  const std::string rows = "\n1,W,450,0\n2,W,300,50\n";
  CHECK(columns_of("Boucle,Lot,OPG avant,OPG apr\xC3\xA8s" + rows) ==
        "animal group epg_before epg_after");
  CHECK(columns_of("Brinco,Lote,OPG antes,OPG depois" + rows) ==
        "animal group epg_before epg_after");
  CHECK(refusal("Tag,Mob,EPG before,OPG after" + rows) ==
        "t.csv:1: column 4 (OPG after): found OPG, which may be oocysts per gram: these are of "
        "coccidia, which are no worms, and no cut-off is for them; expected an answer: the setting "
        "column \"epg_after=OPG after\" (if these are eggs of worms per gram; oocysts cannot be "
        "judged "
        "here; and so each such column)");
  CHECK(refusal("Tier,Gruppe,OPG vor,OPG nach" + rows).find("oocysts") != std::string::npos);
  CHECK(refusal("Tag,Mob,OPG D0,OPG D14" + rows).find("epg_before=OPG D0") != std::string::npos);
  // Words for coccidia go before any language.
  CHECK(refusal("Coccidia (oocysts per gram)\nBoucle,Lot,OPG avant,OPG apr\xC3\xA8s" + rows)
            .find("(\"Coccidia (oocysts per gram)\" says so)") != std::string::npos);
  CHECK(refusal("Boucle,Traitement,OPG avant,OPG apr\xC3\xA8s\n1,toltrazuril,450,0\n")
            .find("(\"toltrazuril\" says so)") != std::string::npos);
  CHECK(refusal("Lambs in OPG\nTag,Mob,Before,After" + rows).find("the setting counts epg") !=
        std::string::npos);
  const ReadText named(
      "Tag,Mob,OPG before,OPG after" + rows,
      support::layout_of({{"column", "epg_before=OPG before"}, {"column", "epg_after=OPG after"}}));
  CHECK(columns_of(named.reading) == "animal group epg_before epg_after");
}
