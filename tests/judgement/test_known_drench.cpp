#include "judgement/known_drench.hpp"

#include "support/support.hpp"

using namespace eggfall;

// The days are practice (docs/bars.md): 3 for LV and PYR alone, 7 for others, 10 for an ML.

TEST_CASE("A drench of which nothing is known may be a macrocyclic lactone") {
  const KnownDrench unknown({}, "white drench a");
  CHECK(unknown.is_unknown());
  CHECK(unknown.may_be_macrocyclic_lactone());
  CHECK(unknown.first_day() == 7);
  CHECK(unknown.first_day_to_be_good() == 10);
  CHECK_FALSE(unknown.only_of(SubstanceKind::narrow));
}

TEST_CASE("Where class and substance contradict each other the stricter days hold") {
  CHECK(KnownDrench({DrugClass::lv}, "a").first_day_to_be_good() == 3);
  CHECK(KnownDrench({DrugClass::bz}, "a").first_day_to_be_good() == 7);
  CHECK(KnownDrench({DrugClass::lv}, "ivermectin").first_day() == 7);
  CHECK(KnownDrench({DrugClass::bz}, "ivermectin").first_day_to_be_good() == 10);
  CHECK(KnownDrench({}, "levamisole").first_day_to_be_good() == 3);
  CHECK_FALSE(KnownDrench({}, "levamisole").is_unknown());
}

TEST_CASE("A drench is for some worms only if all its substances are, whatever its class") {
  const auto narrow = KnownDrench({DrugClass::si}, "closantel").only_of(SubstanceKind::narrow);
  REQUIRE(narrow);
  CHECK(narrow->name == "closantel");
  CHECK_FALSE(KnownDrench({}, "closantel + albendazole").only_of(SubstanceKind::narrow));
  CHECK(KnownDrench({}, "praziquantel").only_of(SubstanceKind::not_for_roundworms));
  // Of no class, and yet not unknown: it is no macrocyclic lactone.
  CHECK_FALSE(KnownDrench({}, "closantel").may_be_macrocyclic_lactone());
}
