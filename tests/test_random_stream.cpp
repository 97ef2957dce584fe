#include "eggfall/random_stream.hpp"

#include "support.hpp"

#include <array>

using namespace eggfall;

TEST_CASE("The stream is Philox 4x32-10") {
  // Known answer of Salmon et al. 2011, distributed with Random123 (kat_vectors):
  // counter 0 and key 0 give 6627e8d5 e169c58d bc57ac4c 9b00dbd8.
  RandomStream stream({0, 0, 0});
  for (const std::uint32_t expected : {0x6627e8d5U, 0xe169c58dU, 0xbc57ac4cU, 0x9b00dbd8U})
    CHECK(stream() == expected);
}

TEST_CASE("below() is even over its range") {
  RandomStream stream({1, 2, 3});
  std::array<int, 7> seen{};
  constexpr int draws = 70'000;
  for (int i = 0; i < draws; ++i)
    ++seen.at(stream.below(7));
  double chi_square = 0;
  for (const int count : seen)
    chi_square += (count - draws / 7.0) * (count - draws / 7.0) / (draws / 7.0);
  CHECK(chi_square < 22.46); // 99.9% point of chi-square on 6 df, standard tables
}
