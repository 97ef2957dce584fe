#include "eggfall/judgement/caveat.hpp"

#include "support/support.hpp"

#include <cstddef>
#include <set>
#include <string>
#include <vector>

using namespace eggfall;

TEST_CASE("The names of caveats are those that files already written hold") {
  // The header promises that a name stays. The list is written down apart from the code, so that
  // whoever renames one has to do so here too, and think of those who read old files.
  const std::vector<std::string> names{"no-estimate",
                                       "no-interval",
                                       "few-animals",
                                       "pooled",
                                       "repeats-disagree",
                                       "few-eggs-counted",
                                       "low-mean-before",
                                       "mean-implausible",
                                       "none-after",
                                       "interval-optimistic",
                                       "animals-differ",
                                       "prior-matters",
                                       "one-animal",
                                       "point-and-interval",
                                       "detection-limit",
                                       "zero-before",
                                       "season-unseen",
                                       "control-changed",
                                       "counts-rose",
                                       "factors-differ",
                                       "worm-survives",
                                       "worm-in-doubt",
                                       "worms-not-told-apart",
                                       "larvae-without-eggs",
                                       "larvae-left-out",
                                       "culture-stands-in",
                                       "culture-of-several-groups",
                                       "larvae-in-percent",
                                       "dropped",
                                       "several-groups",
                                       "underdosed",
                                       "overdosed",
                                       "weights-missing",
                                       "doses-missing",
                                       "label-rate-missing",
                                       "days-missing",
                                       "sampled-early",
                                       "sampled-late",
                                       "days-apart",
                                       "sampled-long-before",
                                       "later-visit",
                                       "control-days",
                                       "treated-apart",
                                       "units-confirmed",
                                       "missing-after",
                                       "worm-absent-before",
                                       "no-larvae",
                                       "few-larvae",
                                       "worm-absent-after"};
  std::vector<std::string> printed;
  for (const CaveatCode code : all_caveat_codes)
    printed.emplace_back(to_string(code));
  CHECK(printed == names);
  CHECK(std::set<std::string>(printed.begin(), printed.end()).size() == names.size());
}

TEST_CASE("The list of all caveats holds each once, in the order of their values") {
  for (std::size_t i = 0; i < all_caveat_codes.size(); ++i)
    CHECK(static_cast<std::size_t>(all_caveat_codes.at(i)) == i);
  // The last one of the enumeration is also the last one of the list.
  CHECK(all_caveat_codes.back() == CaveatCode::worm_absent_after);
}

TEST_CASE("Severities have names, and sort with the most serious first") {
  CHECK(to_string(Severity::serious) == "serious");
  CHECK(to_string(Severity::warning) == "warning");
  CHECK(to_string(Severity::note) == "note");
  CHECK(Severity::serious < Severity::warning);
  CHECK(Severity::warning < Severity::note);
}

TEST_CASE("A value that is no caveat and no severity has no name") {
  CHECK_THROWS_AS(to_string(static_cast<CaveatCode>(all_caveat_codes.size())), CalculationError);
  CHECK_THROWS_AS(to_string(static_cast<Severity>(3)), CalculationError);
}

TEST_CASE("A caveat counts where it is at least as severe as is asked for") {
  const std::vector<Caveat> caveats{{CaveatCode::overdosed, "Too much.", Severity::serious},
                                    {CaveatCode::pooled, "Pools.", Severity::note}};
  CHECK(has_caveat(caveats, CaveatCode::overdosed, Severity::serious));
  CHECK(has_caveat(caveats, CaveatCode::overdosed, Severity::warning));
  CHECK(has_caveat(caveats, CaveatCode::pooled, Severity::note));
  CHECK_FALSE(has_caveat(caveats, CaveatCode::pooled, Severity::warning));
  CHECK_FALSE(has_caveat(caveats, CaveatCode::few_animals, Severity::note));
}
