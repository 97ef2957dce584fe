#include "intake/table_words.hpp"

#include "formats/toml_reader.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

using namespace eggfall;

namespace {

const TableWords& known() {
  return TableWords::known();
}

/// The known words with a user's before them.
TableWords with_own(const std::string& toml) {
  return read_toml("schema = \"eggfall.layout/1\"\n" + toml, "own.toml", "eggfall.layout/1",
                   [](const Section& root) { return known().with(root); });
}

std::string refusal(const std::string& toml) {
  return support::input_error([&] { with_own(toml); });
}

} // namespace

TEST_CASE("No egg seen and no sample are told apart, and what may be either is said to be") {
  for (const char* text : {"neg", "Negative", "NIL", "none seen", "No eggs seen", "zero", "0 eggs",
                           "BDL", "Not detected", "negativ", "n\xC3\xA9gatif", "negatif",
                           "Sin huevos", "sem ovos", "keine Eier", "pas d'\xC5\x93ufs"})
    CHECK(known().cell(text) == CellWord::none_seen);
  for (const char* text : {"n/s",
                           "NS",
                           "N.S.",
                           "not sampled",
                           "No sample",
                           "died",
                           "DEAD",
                           "lost",
                           "missing",
                           "sold",
                           "culled",
                           "insufficient",
                           "Insufficient sample",
                           "QNS",
                           "empty rectum",
                           "no faeces",
                           "tot",
                           "mort",
                           "muerto",
                           "morto",
                           "n\xC3\xA3o coletado",
                           "keine Probe"})
    CHECK(known().cell(text) == CellWord::not_sampled);
  for (const char* text :
       {"-", "--", "\xE2\x80\x94", "*",    "nd",  "N/D",      "NSF",       "na",    "N/A", "x", ".",
        "?", "/",  "none",         "NULL", "NaN", "not seen", "not found", "keine", "ras"})
    CHECK(known().cell(text) == CellWord::two_readings);
  for (const char* text : {"", "0", "12", "-5", "neg?", "nil*", "#N/A", "many", "n", "<50",
                           "10 eggs", "coccidia", "neg 5", "died?"})
    CHECK_FALSE(known().cell(text));
}

TEST_CASE("A role is read off the whole of its cell") {
  for (const char* text : {"Control", "untreated", "Untreated control", "none", "NO TREATMENT",
                           "not-treated", "undrenched", "nil treatment", "placebo", "Kontrolle",
                           "unbehandelt", "t\xC3\xA9moin", "temoin", "Non trait\xC3\xA9", "testigo",
                           "sin tratar", "controle", "n\xC3\xA3o tratado", "nao tratado"})
    CHECK(known().role(text) == Role::control);
  for (const char* text : {"treated", "Treatment", "drug", "drenched", "dosed", "test", "behandelt",
                           "trait\xC3\xA9", "tratado"})
    CHECK(known().role(text) == Role::treated);
  for (const char* text :
       {"", "fly control", "control?", "treated control", "ivermectin", "yes", "c"})
    CHECK_FALSE(known().role(text));
}

TEST_CASE("Rows that sum up are told in five languages, with a bracket behind or without") {
  for (const char* text : {"Mean", "Total:", "s.d.", "Mittelwert", "moyenne", "Promedio", "media",
                           "M\xC3\xA9"
                           "dia",
                           "% reduction", "Reduction %", "FECRT", "Range", "min", "Arithmetic mean",
                           "Average EPG", "overall", "Mean (n = 15)", "Moyenne (n=15)", "95% CI"})
    CHECK(known().sums_up(text));
  for (const char* text :
       {"", "Max", "12", "Meander", "ewe (mean)", "(mean)", "Mean one", "Total Eclipse"})
    CHECK_FALSE(known().sums_up(text));
}

TEST_CASE("Hosts are known in other languages, and in English from the words for tables of ours") {
  CHECK(known().host("Schafe") == "sheep");
  CHECK(known().host("L\xC3\xA4mmer") == "sheep");
  CHECK(known().host("Laemmer") == "sheep");
  CHECK(known().host("ovejas") == "sheep");
  CHECK(known().host("chevre") == "goats");
  CHECK(known().host("vaca") == "cattle");
  CHECK(known().host("B\xC5\x93ufs") == "cattle");
  CHECK(known().host("cavalo") == "horses");
  CHECK(known().host("porcin") == "pigs");
  CHECK(known().host("wether") == "sheep");
  CHECK(known().host("alpaca") == "alpacas");
  CHECK_FALSE(known().host("dragon"));
}

TEST_CASE("Days of the week are known by name") {
  for (const char* text : {"Sat", "saturday", "Mi", "samedi",
                           "s\xC3\xA1"
                           "bado",
                           "sexta-feira"})
    CHECK(known().is_weekday(text));
  CHECK_FALSE(known().is_weekday("May"));
}

TEST_CASE("The nearest heads are offered for one that is not known") {
  CHECK(known().nearest_heads("anmial id") == std::vector<std::string>{"animal id"});
  CHECK(known().nearest_heads("animal id").empty());
  CHECK(known().nearest_heads("qqqqqqqqqqqq").empty());
}

TEST_CASE("Words that are known from memory alone say so") {
  CHECK(known().from_memory("Ohrmarke"));
  CHECK(known().from_memory("t\xC3\xA9moin"));
  CHECK_FALSE(known().from_memory("ear tag"));
  CHECK_FALSE(known().from_memory("Region")); // English too
  CHECK_FALSE(known().from_memory("no word of any"));
  const TableWords own = with_own("[[head]]\nmeans = \"animal\"\nwords = [\"Ohrmarke\"]\n");
  CHECK_FALSE(own.from_memory("Ohrmarke"));
  CHECK(own.from_memory("t\xC3\xA9moin"));
}

TEST_CASE("A user's words go before those that are known") {
  const TableWords own = with_own(R"(
other = "is its owner's"
[[head]]
means = "group"
words = ["Tag", "colour of raddle"]
[[cell]]
means = "none-seen"
words = ["nd", "neg?"]
[[role]]
means = "control"
words = "Z"
[[sum]]
words = ["all ewes"]
[[month]]
means = 5
words = ["toukokuu"]
[[weekday]]
words = ["lauantai"]
[[host-word]]
means = "ewes"
words = ["lampaat"]
)");
  REQUIRE(own.pieces_of("tag").size() == 1);
  CHECK(own.pieces_of("tag")[0].means == HeadWord::group);
  CHECK(own.pieces_of("Colour-of-raddle")[0].means == HeadWord::group);
  CHECK(own.pieces_of("ear tag")[0].means == HeadWord::animal); // as before
  CHECK(own.cell("ND") == CellWord::none_seen);
  CHECK(own.cell("neg?") == CellWord::none_seen);
  CHECK(own.cell("n/s") == CellWord::not_sampled);
  CHECK(own.role("z") == Role::control);
  CHECK(own.sums_up("All ewes"));
  CHECK(own.month("Toukokuu") == 5);
  CHECK(own.month("May") == 5);
  CHECK(own.is_weekday("lauantai"));
  CHECK(own.host("lampaat") == "sheep"); // as canonical_host() would have it of ewes
  // The known ones stay as they are.
  CHECK(known().pieces_of("tag")[0].means == HeadWord::animal);
  CHECK(known().cell("nd") == CellWord::two_readings);
}

TEST_CASE("A user's words that cannot be are refused with their place") {
  CHECK(refusal("[[host-word]]\nmeans = \"sheeg\"\nwords = [\"lampaat\"]\n")
            .find("expected a host that is known (is sheep meant?)") != std::string::npos);
  CHECK(
      refusal("[[head]]\nmeans = \"group\"\nwords = [\"mob\"]\n[[head]]\nmeans = \"farm\"\nwords = "
              "[\"MOB\"]\n") ==
      "own.toml:7: column 9 (words): found \"MOB\", which stands under another meaning too; "
      "expected each phrase, whatever its case, marks and accents, under one meaning");
  CHECK(refusal("[[head]]\nmeans = \"mob\"\nwords = [\"x\"]\n")
            .find("found \"mob\"; expected one of "
                  "animal, group, drench") != std::string::npos);
  CHECK(refusal("[[head]]\nmeans = \"group\"\n").find("found no key words") != std::string::npos);
  CHECK(refusal("[[head]]\nwords = [\"x\"]\n").find("found no key means") != std::string::npos);
  CHECK(refusal("[[sum]]\nmeans = \"sum\"\nwords = [\"x\"]\n").find("the unknown key \"means\"") !=
        std::string::npos);
  CHECK(refusal("[[cell]]\nmeans = \"zero\"\nwords = [\"x\"]\n")
            .find("expected one of none-seen, not-sampled, two-readings") != std::string::npos);
  for (const char* month : {"0", "13", "1.5"})
    CHECK_FALSE(refusal(fmt::format("[[month]]\nmeans = {}\nwords = [\"x\"]\n", month)).empty());
  // What no user may claim.
  CHECK(refusal("[[head]]\nmeans = \"group\"\nprovenance = \"practice\"\nwords = [\"x\"]\n")
            .find("the unknown key \"provenance\"") != std::string::npos);
}

TEST_CASE("What cells mean has a name") {
  CHECK(to_string(CellWord::none_seen) == "none-seen");
  CHECK(to_string(CellWord::not_sampled) == "not-sampled");
  CHECK(to_string(CellWord::two_readings) == "two-readings");
}
