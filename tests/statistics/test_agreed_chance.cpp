#include "statistics/agreed_chance.hpp"

#include "support/support.hpp"

using namespace eggfall;

namespace {

double agreed(const std::vector<double>& chances) {
  AgreedChance result;
  for (const double chance : chances)
    result.hear(chance);
  return result.value();
}

} // namespace

TEST_CASE("Witnesses agree on no more than the most doubtful of them says") {
  CHECK(agreed({0.1, 0.3, 0.2}) == 0.3);
  CHECK(agreed({0.9, 0.7, 0.8}) == 0.7);
  CHECK(agreed({0.4, 0.9}) == 0.5);
  CHECK(agreed({0.5, 0.9}) == 0.5);
}

TEST_CASE("A witness that only doubts holds no chance up") {
  AgreedChance chance;
  chance.hear(0.2);
  chance.hear_at_most(0.9);
  CHECK(chance.value() == 0.2);
  AgreedChance large;
  large.hear(0.9);
  large.hear_at_most(0.6);
  CHECK(large.value() == 0.6);
}
