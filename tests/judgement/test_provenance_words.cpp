#include "judgement/provenance_words.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("What is from memory or practice says so, and all else names its source") {
  CHECK(provenance_text({"A 1992", Provenance::memory}) ==
        "from memory: check against the published guideline");
  CHECK(provenance_text({"A 1992", Provenance::practice}) == "practice");
  CHECK(provenance_text({"A 1992", Provenance::published}) == "A 1992; published");
  CHECK(provenance_text({"Rules of an invented valley", Provenance::user}) ==
        "Rules of an invented valley; user");
}
