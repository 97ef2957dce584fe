#include "judgement/sample_words.hpp"

#include "support/support.hpp"

#include <cstdint>
#include <vector>

using namespace eggfall;

namespace {

/// Samples of so many animals each.
SampleSummary summary(const std::vector<std::uint32_t>& animals) {
  std::vector<Count> counts;
  for (const std::uint32_t mixed : animals)
    counts.push_back({EggsSeen(1), MultiplicationFactor(50), mixed});
  return summarise(counts);
}

} // namespace

TEST_CASE("Single animals are counted as animals") {
  CHECK(sampled_in_words(summary(std::vector<std::uint32_t>(14, 1))) == "14 animals");
  CHECK(sampled_in_words(summary({1})) == "1 animal");
  CHECK(sampled_in_words(summary({})) == "0 animals");
  CHECK(sampled_in_words(summary({1, 1}), "treated ") == "2 treated animals");
  CHECK(sampled_in_words(summary({1}), "control ") == "1 control animal");
}

TEST_CASE("Pools are counted with the animals in them") {
  CHECK(sampled_in_words(summary({10, 10, 10, 10, 10})) == "5 pools of 50 animals");
  CHECK(sampled_in_words(summary({10})) == "1 pool of 10 animals");
  CHECK(sampled_in_words(summary({5, 5}), "treated ") == "2 pools of 10 treated animals");
}

TEST_CASE("Pools beside single animals are told apart, with the sum of both") {
  CHECK(sampled_in_words(summary({10, 10, 10, 10, 1})) ==
        "4 pools and 1 single animal, 41 animals in all");
  CHECK(sampled_in_words(summary({8, 1, 1}), "control ") ==
        "1 pool and 2 single animals, 10 control animals in all");
}

TEST_CASE("A sample is called an animal, a pool, or a sample where there are both") {
  CHECK(sampled_unit(summary({1, 1})) == "animal");
  CHECK(sampled_unit(summary({})) == "animal");
  CHECK(sampled_unit(summary({3, 4})) == "pool");
  CHECK(sampled_unit(summary({3, 1})) == "sample");
}
