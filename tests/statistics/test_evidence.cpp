#include "eggfall/statistics/evidence.hpp"

#include "support/support.hpp"

#include <algorithm>

using namespace eggfall;

TEST_CASE("Only the methods of a design give limits, whoever asks for another") {
  const Group treated = support::group("T", {20, 30, 10, 40}, {2, 5, 1, 3});
  const Group control = support::group("C", {18, 25, 12, 33}, {20, 24, 15, 30});
  std::vector<Method> all;
  for (const Design design : all_designs)
    for (const Method method : methods_for(design))
      if (std::ranges::find(all, method) == all.end())
        all.push_back(method);
  for (const Design design : all_designs) {
    const Evidence evidence(*compare(design, treated, &control), {1'000, 1, 1}, {});
    const std::vector<Method> its = evidence.methods();
    for (const Method method : all) {
      INFO(to_string(design) << ' ' << to_string(method));
      const Interval interval = evidence.interval(method, 0.90);
      if (std::ranges::find(its, method) == its.end())
        CHECK(interval.why_not == "it is not made for this design");
      else
        CHECK(interval.usable());
    }
  }
  const Evidence paired(*compare(Design::paired, treated, nullptr), {1'000, 1, 1}, {});
  CHECK_THROWS_AS(paired.interval(Method::controlled_posterior, 1), InputError);
}

TEST_CASE("Where no method gives limits the headline says why") {
  const Group none = support::group("T", {0, 0, 0}, {0, 0, 0});
  const Evidence evidence(*compare(Design::paired, none, nullptr), {1'000, 1, 1}, {});
  const Interval headline = evidence.headline(0.90);
  CHECK_FALSE(headline.usable());
  CHECK(headline.method == Method::guarded_posterior);
  CHECK_FALSE(headline.why_not.empty());
  CHECK_FALSE(evidence.outside_posterior());
  CHECK_FALSE(evidence.reduction());
}
