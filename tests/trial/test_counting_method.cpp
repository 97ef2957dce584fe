#include "eggfall/trial/counting_method.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("Multiplication factors of published methods") {
  // Cork & Lejeune, The Veterinary Laboratory and Field Manual, 3rd ed., p. 120:
  // 3.0 g made up to 45 mL, one 0.15 mL grid: factor 100, 4 eggs are 400 EPG.
  const MultiplicationFactor cork = multiplication_factor(
      {.faeces_g = 3, .added_ml = {}, .total_ml = 45, .chambers = 1, .chamber_volume_ml = 0.15});
  CHECK_THAT(cork.value(), support::close_to(100));
  CHECK_THAT((EggsSeen(4) * cork).value(), support::close_to(400));
  // AAEP Internal Parasite Control Guidelines (2024), Appendix A: 4 g + 26 mL,
  // 2 x 0.15 mL: factor 25.
  CHECK_THAT(
      multiplication_factor(
          {.faeces_g = 4, .added_ml = 26, .total_ml = {}, .chambers = 2, .chamber_volume_ml = 0.15})
          .value(),
      support::close_to(25));
  // Common practice, no source: 2 g made up to 60 mL, 2 x 0.15 mL: factor 100.
  CHECK_THAT(
      multiplication_factor(
          {.faeces_g = 2, .added_ml = {}, .total_ml = 60, .chambers = 2, .chamber_volume_ml = 0.15})
          .value(),
      support::close_to(100));
  // Common practice, no source: faeces taken as 1 mL a gram.
  CHECK_THAT(
      suspension_ml(
          {.faeces_g = 10, .added_ml = 40, .total_ml = {}, .chambers = 0, .chamber_volume_ml = {}}),
      support::close_to(50));
}

TEST_CASE("The volume to count undoes the factor") {
  const BenchFigures bench{
      .faeces_g = 4, .added_ml = 26, .total_ml = {}, .chambers = 2, .chamber_volume_ml = 0.15};
  CHECK_THAT(volume_to_count_ml(bench, multiplication_factor(bench)), support::close_to(0.3));
}

TEST_CASE("Bench figures that cannot be are refused") {
  const auto message = [](const BenchFigures& bench) {
    return support::input_error([&] { multiplication_factor(bench); });
  };
  CHECK(message({.faeces_g = 0,
                 .added_ml = {},
                 .total_ml = 45,
                 .chambers = 1,
                 .chamber_volume_ml = 0.15}) ==
        "the mass of faeces (g) is 0; expected more than 0");
  CHECK(message({.faeces_g = 3,
                 .added_ml = {},
                 .total_ml = 450'000,
                 .chambers = 1,
                 .chamber_volume_ml = 0.15}) ==
        "the total volume (mL) is 450000; expected at most 100000");
  CHECK(message({.faeces_g = 3,
                 .added_ml = 42,
                 .total_ml = 45,
                 .chambers = 1,
                 .chamber_volume_ml = 0.15}) ==
        "expected either the volume added or the total volume, and not both");
  CHECK(message({.faeces_g = 3,
                 .added_ml = {},
                 .total_ml = 2,
                 .chambers = 1,
                 .chamber_volume_ml = 0.15}) ==
        "a total volume of 2 mL is less than the 3 g of faeces take up; expected faeces and "
        "liquid together");
  CHECK(message({.faeces_g = 3,
                 .added_ml = {},
                 .total_ml = 45,
                 .chambers = 0,
                 .chamber_volume_ml = 0.15}) ==
        "the number of chambers counted is 0; expected more than 0");
  CHECK(message({.faeces_g = 3,
                 .added_ml = {},
                 .total_ml = 45,
                 .chambers = 1,
                 .chamber_volume_ml = {}}) == "the volume of a chamber (mL) is missing");
  CHECK(message({.faeces_g = 3,
                 .added_ml = {},
                 .total_ml = 45,
                 .chambers = 100,
                 .chamber_volume_ml = 0.5}) ==
        "50 mL counted out of a suspension of 45 mL; expected no more than there is");
  CHECK_THROWS_AS(
      volume_to_count_ml(
          {.faeces_g = 3, .added_ml = {}, .total_ml = 45, .chambers = 0, .chamber_volume_ml = {}},
          MultiplicationFactor(0.1)),
      InputError);
}

TEST_CASE("What a sample without eggs may still hold is the rule of three") {
  // R 4.2.2: qgamma(0.95, 1), the upper Poisson limit when none is seen (Hanley & Lippman-Hand
  // 1983: about 3).
  CHECK_THAT(most_unseen(MultiplicationFactor(1)).value(), support::close_to(2.995732273554));
  CHECK_THAT(most_unseen(MultiplicationFactor(15)).value(), support::close_to(44.93598410331));
}

TEST_CASE("Chambers to count are whole, and enough") {
  CHECK(chambers_for(0.3, 0.15) == 2);
  CHECK(chambers_for(0.45, 0.15) == 3);
  CHECK(chambers_for(0.31, 0.15) == 3);
  CHECK(chambers_for(0.1, 0.5) == 1);
  CHECK_THROWS_AS(chambers_for(1, 0), InputError);
  CHECK_THROWS_AS(chambers_for(1, 1e-300), InputError);
  CHECK_THROWS_AS(chambers_for(0, 0.15), InputError);
}
