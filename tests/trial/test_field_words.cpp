#include "trial/field_words.hpp"

#include "eggfall/trial/trial.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <string_view>
#include <utility>
#include <vector>

using namespace eggfall;

namespace {

using Words = std::vector<std::string_view>;

} // namespace

TEST_CASE("A host is known by species, sex and age, singular and plural") {
  const std::vector<std::pair<std::string, Words>> all{
      {"sheep",
       {"sheep", "ovine", "ewe", "ewes", "lamb", "lambs", "ram", "rams", "wether", "wethers",
        "hogget", "hoggets"}},
      {"goats", {"goat", "goats", "caprine", "doe", "does", "kid", "kids", "buck", "bucks"}},
      {"cattle",
       {"cattle", "bovine", "cow", "cows", "calf", "calves", "heifer", "heifers", "steer", "steers",
        "bull", "bulls"}},
      {"horses",
       {"horse", "horses", "equine", "pony", "ponies", "foal", "foals", "mare", "geldings",
        "donkey", "donkeys"}},
      {"pigs", {"pig", "pigs", "swine", "sow", "sows", "piglet", "piglets", "boar", "gilts"}},
      {"alpacas", {"alpaca", "alpacas"}},
      {"llamas", {"llama", "llamas"}},
      {"deer", {"deer"}},
      {"camels", {"camel", "camels"}},
  };
  for (const auto& [name, words] : all)
    for (const std::string_view word : words) {
      INFO(word);
      const auto host = known_host(word);
      REQUIRE(host);
      CHECK(host->name == name);
      CHECK(host->source == WordSource::practice);
      CHECK(canonical_host(word) == name);
    }
  CHECK(canonical_host(" EWES ") == "sheep");
  for (const std::string_view word : {"", "yak", "sheeps", "white lambs", "ewe lamb"}) {
    INFO(word);
    CHECK_FALSE(known_host(word));
    CHECK(canonical_host(word) == word);
  }
}

TEST_CASE("Hosts without cut-offs are told from those with them") {
  for (const char* host : {"sheep", "doe", "calf", "donkey", "sow"})
    CHECK(known_host(host)->has_cut_offs);
  CHECK(hosts_with_cut_offs() == Words{"sheep", "goats", "cattle", "horses", "pigs"});
  for (const char* host : {"alpaca", "llamas", "deer", "camel"})
    CHECK_FALSE(known_host(host)->has_cut_offs);
}

TEST_CASE("Genus, species and names of the trade are one worm") {
  const std::vector<std::pair<std::string, Words>> all{
      {"haemonchus",
       {"Haemonchus", "haemonchus contortus", "H. contortus", "h.contortus", "H placei",
        "Haemonchus sp.", "HAEMONCHUS SPP", "Haemonchus (contortus)", "barber's pole worm",
        "Barber\xE2\x80\x99s pole worms", "barber-pole worm"}},
      {"teladorsagia",
       {"Teladorsagia", "teladorsagia circumcincta", "T. circumcincta", "Ostertagia circumcincta",
        "O. circumcincta", "small brown stomach worm"}},
      {"ostertagia", {"Ostertagia", "Ostertagia ostertagi", "O. ostertagi", "Ostertagia spp."}},
      {"trichostrongylus",
       {"Trichostrongylus", "T. colubriformis", "Trichostrongylus axei", "T. vitrinus",
        "black scour worm", "Black scour worms"}},
      {"cooperia", {"Cooperia", "Cooperia oncophora", "C. punctata", "C. curticei"}},
      {"oesophagostomum",
       {"Oesophagostomum", "Esophagostomum", "O. radiatum", "O. dentatum", "nodule worm",
        "nodular worms"}},
      {"chabertia", {"Chabertia", "Chabertia ovina", "C. ovina"}},
      {"bunostomum", {"Bunostomum", "B. trigonocephalum", "B. phlebotomum", "hookworms"}},
      {"nematodirus",
       {"nem", "Nematodirus", "Nematodirus battus", "N. filicollis", "thin-necked",
        "thin-necked intestinal worm"}},
      {"strongyloides", {"Strongyloides", "S. papillosus", "Strongyloides westeri"}},
      {"trichuris", {"Trichuris", "T. suis", "Trichuris ovis", "whipworm", "whipworms"}},
      {"ascarids",
       {"ascarid", "ascarids", "Parascaris", "Parascaris spp.", "P. equorum", "P. univalens",
        "Ascaris", "Ascaris suum", "large roundworm"}},
      {"oxyuris", {"Oxyuris", "Oxyuris equi", "O. equi", "pinworm"}},
      {"strongyles",
       {"strongyle", "strongyles", "strongylid", "strongyle-type eggs", "cyathostomin",
        "cyathostomins", "cyathostomes", "small redworms", "small strongyles"}},
      {"strongylus",
       {"Strongylus", "Strongylus vulgaris", "S. edentatus", "large redworm", "large strongyles"}},
      {"hyostrongylus", {"Hyostrongylus", "H. rubidus"}},
  };
  for (const auto& [name, words] : all)
    for (const std::string_view word : words) {
      INFO(word);
      const auto worm = known_worm(word);
      REQUIRE(worm);
      CHECK(worm->name == name);
      CHECK(canonical_worm(word) == name);
      CHECK_FALSE(not_a_roundworm(word));
    }
  CHECK(known_worm("haemonchus")->source == WordSource::memory);
  CHECK(known_worm("strongyles")->source == WordSource::practice);
  CHECK(to_string(WordSource::memory) == "memory");
  CHECK(to_string(WordSource::practice) == "practice");
}

TEST_CASE("What two worms are called, and what nobody knows, is kept in lower case") {
  for (const std::string_view name :
       {"brown stomach worm", "redworms", "trich", "worm x", "haemonchus/cooperia",
        "haemonchus cooperia", "t. ovis", "x contortus", "contortus", ""}) {
    INFO(name);
    CHECK_FALSE(known_worm(name));
    CHECK(canonical_worm(name) == name);
  }
  CHECK(canonical_worm("Trich A") == "trich a");
}

TEST_CASE("A name that was made one is itself that name") {
  for (const std::string_view name :
       {"Haemonchus", "ascarid", "Eimeria", "Calicophoron", "liver fluke", "Dictyocaulus", "Trich"})
    CHECK(canonical_worm(canonical_worm(name)) == canonical_worm(name));
}

TEST_CASE("What is no roundworm is told by any word of a name") {
  const std::vector<std::pair<std::string, Words>> all{
      {"liver fluke",
       {"Fasciola", "Fasciola hepatica", "F. hepatica", "Fasciola gigantica", "liver fluke eggs"}},
      {"rumen fluke",
       {"Paramphistomum", "P. cervi", "Calicophoron daubneyi", "rumen flukes", "stomach fluke"}},
      {"lancet fluke", {"Dicrocoelium", "D. dendriticum", "Lancet fluke"}},
      {"fluke", {"fluke", "Flukes", "fluke eggs"}},
      {"tapeworms",
       {"Moniezia", "Moniezia expansa", "Anoplocephala spp.", "A. perfoliata", "tapeworm",
        "tapeworm eggs", "tape worms"}},
      {"coccidia",
       {"Eimeria", "Eimeria bovis", "coccidia", "Coccidial oocysts", "oocysts",
        "strongyles and coccidia"}},
      {"Giardia, a protozoon", {"Giardia", "Giardia duodenalis cysts"}},
      {"Cryptosporidium, a protozoon",
       {"Cryptosporidium", "C. parvum", "Cryptosporidium oocysts", "cryptosporidia"}},
      {"protozoa", {"protozoa", "Toxoplasma gondii", "other protozoa", "Balantidium coli"}},
      {"lungworm",
       {"Dictyocaulus", "Dictyocaulus viviparus", "D. filaria", "lungworm", "lungworm larvae"}},
  };
  for (const auto& [called, words] : all)
    for (const std::string_view word : words) {
      INFO(word);
      const auto stranger = not_a_roundworm(word);
      REQUIRE(stranger);
      CHECK(stranger->called == called);
      CHECK(stranger->source == WordSource::memory);
      CHECK(canonical_worm(stranger->name) == stranger->name);
      CHECK(not_a_roundworm(stranger->name)->called == called);
    }
  for (const char* name : {"", "haemonchus", "flukes2", "influke", "moniezias", "f", "hepatica"}) {
    INFO(name);
    CHECK_FALSE(not_a_roundworm(name));
  }
}

TEST_CASE("Names of one stranger are one name, in whole only") {
  CHECK(canonical_worm("F. hepatica") == "fasciola");
  CHECK(canonical_worm("Liver fluke") == "fasciola");
  CHECK(canonical_worm("Calicophoron") == "rumen fluke");
  CHECK(canonical_worm("tapeworm") == "tapeworms");
  CHECK(canonical_worm("oocysts") == "coccidia");
  CHECK(canonical_worm("Strongyles and coccidia") == "strongyles and coccidia");
}

TEST_CASE("Each stranger says what its counts cannot show") {
  const auto why = [](const char* name) { return std::string(not_a_roundworm(name)->why); };
  CHECK_THAT(why("liver fluke"), Catch::Contains("leave the gall bladder for weeks after a cure"));
  CHECK_THAT(why("lancet fluke"), Catch::Contains("gall bladder"));
  CHECK_THAT(why("rumen fluke"), !Catch::Contains("gall bladder"));
  CHECK_THAT(why("tapeworm"), Catch::Contains("in segments, unevenly"));
  CHECK_THAT(why("coccidia"), Catch::Contains("rise and fall by themselves"));
  CHECK_THAT(why("lungworm"), Catch::Contains("as larvae, by the Baermann technique"));
  for (const char* name : {"giardia", "cryptosporidium", "protozoa"})
    CHECK_THAT(why(name), Catch::Contains("no cut-off applies"));
}

TEST_CASE("A question names the known words nearest to an unknown one") {
  CHECK(nearest_hosts("sheeep") == Words{"sheep"});
  CHECK(nearest_hosts("Cattel") == Words{"cattle", "camel"});
  CHECK(nearest_hosts("ewe").empty()); // known
  CHECK(nearest_hosts("okapi").empty());
  CHECK(nearest_hosts("").empty());
  CHECK(nearest_worms("hemonchus") == Words{"haemonchus"});
  CHECK(nearest_worms("Trichostrongilus") == Words{"trichostrongylus"});
  CHECK(nearest_worms("emeria") == Words{"eimeria"});
  CHECK(nearest_worms("H. contortus").empty());
  CHECK(nearest_worms("unidentified").empty());
}

TEST_CASE("At most three words are offered, all as near") {
  CHECK(nearest_words("aa", {"ab", "ac", "ad", "ae"}) == Words{"ab", "ac", "ad"});
  CHECK(nearest_words("abcdef", {"abcxyf", "abcxef", "abxdef"}) == Words{"abcxef", "abxdef"});
  CHECK(nearest_words("abcdef", {"abcdyz"}) == Words{"abcdyz"}); // 2 of 6: a third
  CHECK(nearest_words("abcde", {"abcyz"}).empty());              // 2 of 5: more
  CHECK(nearest_words("AB", {"xy", "ab", "ac"}).empty());        // known
  CHECK(nearest_words(std::string(200, 'a'), {std::string_view("aa")}).empty());
}

TEST_CASE("A question is put in brackets") {
  CHECK(is_meant({}).empty());
  CHECK(is_meant({"BZ"}) == " (is BZ meant?)");
  CHECK(is_meant({"BZ", "LV", "ML"}) == " (is BZ, LV or ML meant?)");
}

TEST_CASE("Words of a table are told apart by bars") {
  CHECK(listed_words("").empty());
  CHECK(listed_words("a") == Words{"a"});
  CHECK(listed_words("a b|c") == Words{"a b", "c"});
}
