#include "intake/head_pieces.hpp"

#include "base/user_text.hpp"
#include "intake/table_words.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;

namespace {

/// "White|drench=drench|14=#14": each piece as it is written, and what it is.
std::string shown(const std::string& cell) {
  std::string out;
  for (const HeadPiece& piece : TableWords::known().pieces_of(cell)) {
    out += (out.empty() ? "" : "|") + piece.text;
    if (piece.means)
      out += "=" + std::string(to_string(*piece.means));
    if (piece.number)
      out += fmt::format("=#{}{}", *piece.number, piece.hyphen_before ? "!" : "");
  }
  return out;
}

} // namespace

TEST_CASE("The longest known phrase from the left wins, and its spelling is kept") {
  CHECK(shown("White drench pre EPG") == "White|drench=drench|pre=before|EPG=epg");
  CHECK(shown("Pre-treatment eggs/g") == "Pre-treatment=before|eggs/g=epg");
  CHECK(shown("Treatment group") == "Treatment group=group");
  CHECK(shown("Treatment") == "Treatment=drench");
  CHECK(shown("Date of treatment") == "Date of treatment=treated");
  CHECK(shown("Post drench date") == "Post drench=after|date=date");
  CHECK(shown("No. of eggs") == "No. of eggs=eggs");
  CHECK(shown("Tag No.") == "Tag No=animal");
  CHECK(shown("Days after treatment") == "Days=day|after treatment=after");
  CHECK(shown("Pre/Post") == "Pre/Post=occasion");
  CHECK(shown("weight (kg)") == "weight=weight|kg=unit");
}

TEST_CASE("Words end at marks, digits and capitals after small letters") {
  CHECK(shown("FEC1") == "FEC=count|1=#1");
  CHECK(shown("eggs_before") == "eggs=eggs|before=before");
  CHECK(shown("eggsBefore") == "eggs=eggs|Before=before");
  CHECK(shown("eggsPerGramPre") == "eggsPerGram=epg|Pre=before");
  CHECK(shown("dose_mL") == "dose=dose|mL=unit");
  CHECK(shown("EpG 2031") == "EpG=epg|2031=#2031");
  CHECK(shown("E.P.G.") == "E.P.G=epg");
  CHECK(shown("F E C post") == "F E C=count|post=after");
  CHECK(shown("#") == "#=animal");
  CHECK(shown("%") == "%=ignored");
  CHECK(shown("?").empty());
  CHECK(shown("").empty());
}

TEST_CASE("What is not known is left whole, as it is written") {
  CHECK(shown("McRae pre") == "McRae|pre=before");
  CHECK(shown("BZ+LEV pre") == "BZ+LEV|pre=before");
  CHECK(shown("BZ + LEV pre") == "BZ|+|LEV|pre=before");
  CHECK(shown("\xC3\x89"
              "cole avant") == "\xC3\x89"
                               "cole|avant=before");
  CHECK(shown("1234567890") == "1234567890"); // of more digits than a number here may have
  // Names of substances and worms do not fall apart into words that are known.
  for (const char* name :
       {"albendazole",    "ricobendazole",    "fenbendazole",    "oxfendazole",  "oxibendazole",
        "mebendazole",    "febantel",         "netobimin",       "levamisole",   "pyrantel",
        "morantel",       "ivermectin",       "abamectin",       "doramectin",   "eprinomectin",
        "moxidectin",     "monepantel",       "derquantel",      "closantel",    "praziquantel",
        "strongyles",     "Haemonchus",       "Teladorsagia",    "Trichuris",    "Nematodirus",
        "Strongyloides",  "Trichostrongylus", "Oesophagostomum", "cyathostomin", "coccidia",
        "benzimidazoles", "Control",          "Untreated",       "Oocysts",      "white"})
    CHECK(shown(name) == name);
}

TEST_CASE("Words that are written together are taken apart") {
  CHECK(shown("preepg") == "pre=before|epg=epg");
  CHECK(shown("EggsAfter") == "Eggs=eggs|After=after");
  CHECK(shown("eggsafter") == "eggs=eggs|after=after");
  CHECK(shown("EPGPre") == "EPG=epg|Pre=before");
  CHECK(shown("eartag") == "eartag=animal");
  CHECK(shown("dateposttreatment") == "date=date|posttreatment=after");
  CHECK(shown("prefecdate") == "pre=before|fecdate=date");
  CHECK(shown("epgapr\xC3\xA8s") == "epg=epg|apr\xC3\xA8s=after");
  // Fillers and single letters are no parts.
  CHECK(shown("ofepg") == "ofepg");
  CHECK(shown("depg") == "depg");
  CHECK(shown("epgd") == "epgd");
  CHECK(shown("epgd14") == "epg=epg|d=day|14=#14");
}

TEST_CASE("One letter means a day or a week beside a number alone") {
  CHECK(shown("D14 epg") == "D=day|14=#14|epg=epg");
  CHECK(shown("epg 14 d") == "epg=epg|14=#14|d=day");
  CHECK(shown("J14") == "J=day|14=#14");
  CHECK(shown("w2") == "w=week|2=#2");
  CHECK(shown("D pre") == "D|pre=before");
  CHECK(shown("Day pre") == "Day=day|pre=before");
}

TEST_CASE("Ordinals are numbers, but the first and second of a sampling") {
  CHECK(shown("1st EPG") == "1st=first|EPG=epg");
  CHECK(shown("2nd count") == "2nd count=second");
  CHECK(shown("3rd EPG") == "3rd=#3|EPG=epg");
  CHECK(shown("14th day") == "14th=#14|day=day");
  CHECK(shown("21st") == "21st=#21");
  CHECK(shown("1\xC2\xBA HPG") == "1\xC2\xBA=first|HPG=epg"); // a raised o
  CHECK(shown("3\xC3\xA8me") == "3\xC3\xA8me=#3");
  CHECK(shown("3rdly") == "3=#3|rdly");
}

TEST_CASE("A minus before a day is told from a hyphen, or said to be either") {
  CHECK(shown("Day -7 FEC") == "Day=day|7=#-7|FEC=count");
  CHECK(shown("Day (-7)") == "Day=day|7=#-7");
  CHECK(shown("Day \xE2\x88\x92"
              "7") == "Day=day|7=#-7"); // U+2212
  CHECK(shown("Day 7") == "Day=day|7=#7");
  CHECK(shown("D+14") == "D=day|14=#14");
  CHECK(shown("D-7") == "D=day|7=#7!");
  CHECK(shown("EPG-1") == "EPG=epg|1=#1!");
  CHECK(shown("EPG -1") == "EPG=epg|1=#1!");
}

TEST_CASE("Other languages are known, with accents or without") {
  CHECK(shown("\xC5\x92ufs/g avant") == "\xC5\x92ufs/g=epg|avant=before");
  CHECK(shown("OEUFS PAR GRAMME APRES TRAITEMENT") ==
        "OEUFS PAR GRAMME=epg|APRES TRAITEMENT=after");
  CHECK(shown("EpG nach der Behandlung") == "EpG=epg|nach der Behandlung=after");
  CHECK(shown("Koerpergewicht (kg)") == "Koerpergewicht=weight|kg=unit");
  CHECK(shown("HPG D\xC3\x8D"
              "A 0") == "HPG=epg|D\xC3\x8D"
                        "A=day|0=#0");
  CHECK(shown("n\xC2\xBA brinco") == "n\xC2\xBA brinco=animal");
  CHECK(shown("N\xC2\xB0 animal") == "N\xC2\xB0 animal=animal");
  CHECK(shown("OPG antes do tratamento") == "OPG=epg|antes do tratamento=before");
}

TEST_CASE("Pieces say where they stand in the cell as it is kept") {
  const std::string cell = "  White-drench  (pre) ";
  const std::vector<HeadPiece> pieces = TableWords::known().pieces_of(cell);
  REQUIRE(pieces.size() == 3);
  for (const HeadPiece& piece : pieces)
    CHECK(normalised(cell).substr(piece.start, piece.text.size()) == piece.text);
  CHECK(pieces[1].start == pieces[0].end() + 1);
}

TEST_CASE("Pieces have a word if any of them means it") {
  const std::vector<HeadPiece> pieces = TableWords::known().pieces_of("White drench pre EPG");
  CHECK(have_word(pieces, HeadWord::drench));
  CHECK(have_word(pieces, HeadWord::epg));
  CHECK_FALSE(have_word(pieces, HeadWord::after));
  CHECK_FALSE(have_word({}, HeadWord::epg));
}

TEST_CASE("Every meaning of a head has a name of its own") {
  for (const auto& [word, name] : head_word_names) {
    CHECK(to_string(word) == name);
    CHECK(value_named(head_word_names, name) == word);
  }
  CHECK(head_word_names.size() == static_cast<std::size_t>(HeadWord::ignored) + 1);
}

TEST_CASE("A lone h is of hours behind a number alone, and a plus before a number is kept") {
  CHECK(shown("72 h after") == "72=#72|h=hour|after=after");
  CHECK(shown("72h") == "72=#72|h=hour");
  CHECK(shown("H 2 EPG") == "H|2=#2|EPG=epg"); // a group, perhaps
  CHECK(shown("after 1 month") == "after=after|1=#1|month=months");
  const auto pieces = TableWords::known().pieces_of("after +3");
  REQUIRE(pieces.size() == 2);
  CHECK(pieces[1].plus_before);
  CHECK_FALSE(TableWords::known().pieces_of("after 3")[1].plus_before);
}
