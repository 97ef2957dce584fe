#include "eggfall/statistics/posterior.hpp"

#include "cli/program.hpp"
#include "support/support.hpp"

#include <cmath>
#include <cstdlib>
#include <map>
#include <sstream>

// The three posteriors against Markov chains in JAGS: the data sets of posterior_jags.R, and its
// stored output posterior_jags.csv. Where the environment variable EGGFALL_JAGS_OUTPUT names a
// fresh output of that script, it is used instead (the tests labelled "reference").

using namespace eggfall;

namespace {

using Eggs = std::vector<std::uint32_t>;

const Eggs heavy{31, 12, 8, 25, 17, 40, 9, 22, 15, 28};

Comparison paired(const Eggs& before, const Eggs& after, double f1 = 1, double f2 = 1) {
  return {Design::paired, {{support::counts(after, f2), support::counts(before, f1)}}, {}};
}

Comparison two_group(const Eggs& treated, const Eggs& control, double ft = 1, double fc = 1) {
  return {Design::two_group,
          {{support::counts(treated, ft), {}}, {{}, support::counts(control, fc)}},
          {}};
}

Comparison controlled(const Eggs& before, const Eggs& after, const Eggs& control_before,
                      const Eggs& control_after) {
  return {Design::controlled,
          {{support::counts(after, 1), support::counts(before, 1)},
           {support::counts(control_before, 1), support::counts(control_after, 1)}},
          {}};
}

const std::map<std::string, Comparison>& data_sets() {
  using trial_a::after;
  using trial_a::before;
  static const std::map<std::string, Comparison> sets{
      {"trial_a", paired(before, after)},
      {"zeros_after", paired(before, Eggs(12, 0))},
      {"one_heavy_shedder", paired(heavy, {0, 0, 0, 0, 0, 38, 0, 1, 0, 0})},
      {"a_rise", paired({5, 3, 9, 12, 7, 4}, {9, 2, 15, 20, 6, 11})},
      {"unequal_factors", paired(before, {1, 0, 3, 2, 9, 0, 5, 0, 2, 3, 1, 4}, 15, 5)},
      {"three_animals", paired({12, 5, 20}, {1, 0, 2})},
      {"resistant",
       paired({104, 85, 9, 76, 73, 9, 17, 28, 65, 25}, {69, 78, 28, 76, 67, 11, 19, 56, 62, 10})},
      {"many_zero_pairs", paired({0, 0, 4, 1, 0, 7, 2, 0}, {0, 1, 0, 0, 0, 1, 0, 0})},
      {"two_groups", two_group(after, trial_a::control)},
      {"two_groups_zeros", two_group(Eggs(10, 0), {4, 0, 7, 2, 1, 9, 0, 3, 5, 2})},
      {"two_groups_factors", two_group({3, 0, 7, 1, 12, 0, 2}, {9, 15, 2, 30, 8, 4, 11}, 5, 15)},
      {"three_a_group", two_group({1, 0, 2}, {12, 5, 20})},
      {"controlled",
       controlled(before, after, {10, 22, 7, 31, 15, 4, 18, 9}, {14, 15, 9, 40, 11, 6, 30, 8})},
      {"controlled_rise",
       controlled(heavy, {2, 0, 1, 4, 0, 3, 0, 2, 1, 5}, {8, 14, 3, 20, 11}, {20, 31, 9, 44, 18})},
  };
  return sets;
}

} // namespace

TEST_CASE("Posterior quantiles agree with JAGS", "[reference]") {
  const char* fresh = std::getenv("EGGFALL_JAGS_OUTPUT");
  std::istringstream lines(read_text(
      fresh != nullptr ? fresh : EGGFALL_SOURCE_DIR "/tests/published/posterior_jags.csv"));
  std::string line;
  std::getline(lines, line); // versions and seeds
  std::getline(lines, line); // header
  std::map<std::string, int> seen;
  while (std::getline(lines, line)) {
    std::istringstream cells(line);
    std::string name;
    double p = 0;
    double jags = 0;
    double monte_carlo_error = 0;
    char comma = 0;
    std::getline(cells, name, ',');
    cells >> p >> comma >> jags >> comma >> monte_carlo_error;
    REQUIRE(data_sets().contains(name));
    ++seen[name];
    const auto result = posterior(data_sets().at(name), {});
    const Quadrature eta = result->quantile(1 - p);
    const double efficacy = 100 * (1 - std::exp(eta.value));
    const double quadrature_error = 100 * std::exp(eta.value) * std::expm1(eta.error);
    INFO(name << " at " << p << ": JAGS " << jags << " +/- " << monte_carlo_error << ", here "
              << efficacy << " +/- " << quadrature_error);
    CHECK(std::abs(efficacy - jags) <= 3 * monte_carlo_error + quadrature_error);
  }
  CHECK(seen.size() == data_sets().size());
  for (const auto& [name, quantiles] : seen)
    CHECK(quantiles == 5);
}
