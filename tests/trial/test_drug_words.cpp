#include "trial/drug_words.hpp"

#include "eggfall/base/error.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <string_view>
#include <vector>

using namespace eggfall;

namespace {

using Words = std::vector<std::string_view>;

Words names_in(std::string_view text) {
  Words names;
  for (const Substance& substance : substances_in(text))
    names.push_back(substance.name);
  return names;
}

Substance only_one_in(std::string_view text) {
  const std::vector<Substance> found = substances_in(text);
  REQUIRE(found.size() == 1);
  return found.front();
}

} // namespace

TEST_CASE("A substance of many roundworms belongs to a class") {
  const std::vector<std::pair<DrugClass, Words>> all{
      {DrugClass::bz,
       {"albendazole", "ricobendazole", "fenbendazole", "oxfendazole", "oxibendazole",
        "mebendazole", "febantel", "netobimin"}},
      {DrugClass::lv, {"levamisole"}},
      {DrugClass::pyr, {"pyrantel", "morantel"}},
      {DrugClass::ml, {"ivermectin", "abamectin", "doramectin", "eprinomectin", "moxidectin"}},
      {DrugClass::ad, {"monepantel"}},
      {DrugClass::si, {"derquantel"}},
  };
  for (const auto& [drug_class, names] : all)
    for (const std::string_view name : names) {
      INFO(name);
      const Substance substance = only_one_in(name);
      CHECK(substance.kind == SubstanceKind::broad);
      CHECK(substance.drug_class == drug_class);
      CHECK_FALSE(substance.group.empty());
      CHECK(substance.remark.empty());
      CHECK(substance.source == WordSource::memory);
      CHECK(drug_class_called(name) == drug_class);
    }
  CHECK(only_one_in("moxidectin").group == "milbemycins");
  CHECK(only_one_in("ivermectin").group == "avermectins");
}

TEST_CASE("A narrow substance and one of no roundworms belong to none, and say why") {
  for (const char* name :
       {"closantel", "rafoxanide", "oxyclozanide", "nitroxynil", "naphthalophos"}) {
    INFO(name);
    const Substance substance = only_one_in(name);
    CHECK(substance.kind == SubstanceKind::narrow);
    CHECK_FALSE(substance.drug_class);
    CHECK_THAT(std::string(substance.remark), Catch::Contains("a test of Haemonchus"));
    CHECK_FALSE(drug_class_called(name));
  }
  CHECK_THAT(std::string(only_one_in("closantel").remark), Catch::Contains("persists for weeks"));
  CHECK(only_one_in("naphthalophos").group == "organophosphates");
  for (const char* name : {"triclabendazole", "praziquantel"}) {
    INFO(name);
    const Substance substance = only_one_in(name);
    CHECK(substance.kind == SubstanceKind::not_for_roundworms);
    CHECK_FALSE(substance.drug_class);
    CHECK_THAT(std::string(substance.remark), Catch::Contains("not against roundworms"));
    CHECK_FALSE(drug_class_called(name)); // though it ends in -bendazole
  }
}

TEST_CASE("Substances are found in a text as whole words, each once, in its order") {
  CHECK(names_in("ivermectin 0.2 mg/kg oral") == Words{"ivermectin"});
  CHECK(names_in("Derquantel/ABAMECTIN, oral (abamectin)") == Words{"derquantel", "abamectin"});
  CHECK(names_in("levamisole-HCl + triclabendazole") == Words{"levamisole", "triclabendazole"});
  CHECK(names_in("albendazole's") == Words{}); // another word
  CHECK(names_in("white drench").empty());
  CHECK(names_in("ivermectine").empty());
  CHECK(names_in("bendazole").empty());
  CHECK(names_in("").empty());
}

TEST_CASE("A name tells a class where it names one substance for roundworms") {
  const auto told = [](std::string_view text) {
    const auto substance = substance_telling_class(text);
    return substance ? std::string(substance->name) : std::string();
  };
  CHECK(told("Ivermectin 0.2 mg/kg oral") == "ivermectin");
  CHECK(told("ivermectin + praziquantel") == "ivermectin"); // for tapeworms
  CHECK(told("ivermectin ivermectin") == "ivermectin");
  CHECK(told("abamectin + levamisole").empty());
  CHECK(told("ivermectin + closantel").empty());
  CHECK(told("closantel").empty());
  CHECK(told("praziquantel").empty());
  CHECK(told("white drench").empty());
}

TEST_CASE("A class is put into words, which are read again") {
  CHECK(drug_class_in_words(DrugClass::bz) == "benzimidazoles");
  CHECK(drug_class_in_words(DrugClass::lv) == "levamisole");
  CHECK(drug_class_in_words(DrugClass::ml) == "macrocyclic lactones (avermectins, moxidectin)");
  CHECK(drug_class_in_words(DrugClass::ad) == "amino-acetonitrile derivatives (monepantel)");
  CHECK(drug_class_in_words(DrugClass::si) == "spiroindoles (derquantel)");
  CHECK(drug_class_in_words(DrugClass::pyr) == "pyrantel and kin");
  for (const DrugClass drug_class : all_drug_classes)
    CHECK(drug_class_called(drug_class_in_words(drug_class)) == drug_class);
  CHECK_THROWS_AS(drug_class_in_words(static_cast<DrugClass>(99)), CalculationError);
}

TEST_CASE("A class has other names, but none by a colour") {
  CHECK(drug_class_called("Benzimidazole") == DrugClass::bz);
  CHECK(drug_class_called("pro-benzimidazoles") == DrugClass::bz);
  CHECK(drug_class_called("imidazothiazoles") == DrugClass::lv);
  CHECK(drug_class_called("Macrocyclic Lactone") == DrugClass::ml);
  CHECK(drug_class_called("avermectins") == DrugClass::ml);
  CHECK(drug_class_called("milbemycin") == DrugClass::ml);
  CHECK(drug_class_called("amino acetonitrile derivative") == DrugClass::ad);
  CHECK(drug_class_called("spiroindole") == DrugClass::si);
  CHECK(drug_class_called("tetrahydropyrimidines") == DrugClass::pyr);
  for (const char* none :
       {"", "white", "white drench", "clear", "yellow", "combination", "lactone"})
    CHECK_FALSE(drug_class_called(none));
}

TEST_CASE("What is no class is asked about by what is nearest") {
  CHECK(nearest_drug_classes("BX") == Words{"BZ"});
  CHECK(nearest_drug_classes("ivermektin") == Words{"ivermectin"});
  CHECK(nearest_drug_classes("benzimidazol") == Words{"benzimidazole"});
  CHECK(nearest_drug_classes("xx").empty());
  CHECK(expected_drug_class("BX") == "BZ, LV, ML, AD, SI or PYR (is BZ meant?)");
  CHECK(expected_drug_class("white") == "BZ, LV, ML, AD, SI or PYR");
  CHECK(expected_drug_classes("BZ+LX") ==
        "BZ, LV, ML, AD, SI or PYR, or several joined by + (is LV meant?)");
  CHECK(expected_drug_classes("ivermectine + BZ") ==
        "BZ, LV, ML, AD, SI or PYR, or several joined by + (is ivermectin meant?)");
  CHECK(expected_drug_classes("BZ+") == "BZ, LV, ML, AD, SI or PYR, or several joined by +");
}

TEST_CASE("A substance of no class is told what to do with it") {
  CHECK(expected_drug_classes("Closantel") ==
        "BZ, LV, ML, AD, SI or PYR, or several joined by + (closantel is of none of these classes: "
        "give no class, and name it as the drench)");
  CHECK(
      expected_drug_class("triclabendazole") ==
      "BZ, LV, ML, AD, SI or PYR (triclabendazole is of none of these classes: give no class, and "
      "name it as the drench)");
}
