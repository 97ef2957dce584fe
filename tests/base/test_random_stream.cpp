#include "eggfall/base/random_stream.hpp"

#include "support/support.hpp"

#include <Random123/philox.h>

#include <array>

using namespace eggfall;

TEST_CASE("The stream is Philox 4x32-10") {
  // Known answer of Salmon et al. 2011, distributed with Random123 (kat_vectors):
  // counter 0 and key 0 give 6627e8d5 e169c58d bc57ac4c 9b00dbd8.
  RandomStream stream({0, 0, 0});
  for (const std::uint32_t expected : {0x6627e8d5U, 0xe169c58dU, 0xbc57ac4cU, 0x9b00dbd8U})
    CHECK(stream() == expected);
}

TEST_CASE("Block n of a stream is that of counter (n, replicate, group)") {
  RandomStream stream({0x0123456789ABCDEFU, 0xFEDCBA9876543210U, 7});
  const r123::Philox4x32::key_type key{{0x89ABCDEFU, 0x01234567U}};
  for (std::uint32_t n = 0; n < 9; ++n) {
    const auto block = r123::Philox4x32{}({{n, 7, 0x76543210U, 0xFEDCBA98U}}, key);
    for (const std::uint32_t expected : block)
      CHECK(stream() == expected);
  }
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
