#include "cli/program.hpp"
#include "statistics/region_law.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <sstream>
#include <utility>

// The law of a region against Markov chains of the same hierarchical model in JAGS: the data sets
// of region_jags.R, and its stored output region_jags.csv. Where the environment variable
// EGGFALL_REGION_JAGS_OUTPUT names a fresh output of that script, it is used instead (the tests
// labelled "reference").

using namespace eggfall;

namespace {

constexpr std::size_t groups = 12;
constexpr std::array<std::uint32_t, groups> eggs_before{200, 45, 150, 80, 300, 60,
                                                        120, 30, 500, 90, 20,  250};
constexpr std::array<std::uint32_t, groups> eggs_after{0, 0, 2, 1, 40, 30, 1, 0, 3, 25, 4, 12};

/// One animal on both days: its counts are a plain binomial.
std::vector<TrialLikelihood> likelihoods() {
  std::vector<TrialLikelihood> result;
  for (std::size_t g = 0; g < groups; ++g)
    result.emplace_back(Comparison{
        Design::paired,
        {{support::counts({eggs_after.at(g)}, 15), support::counts({eggs_before.at(g)}, 15)}},
        {}});
  return result;
}

/// As in region_jags.R.
constexpr std::array<HeardLikelihood, groups> heard{{{30, -18, 17},
                                                     {30, -14, 17},
                                                     {23, -30, 9},
                                                     {25, -21, 11},
                                                     {15, -45, 5},
                                                     {17, -9, 4},
                                                     {25, -24, 11},
                                                     {30, -12, 17},
                                                     {22, -42, 8},
                                                     {17, -20, 5},
                                                     {23, -9, 7},
                                                     {18, -45, 6}}};

struct Reference {
  double value = 0;
  double monte_carlo_error = 0;
};

/// By quantity, of one data set.
std::map<std::string, Reference> references(const std::string& data_set) {
  const char* fresh = std::getenv("EGGFALL_REGION_JAGS_OUTPUT");
  std::istringstream lines(
      read_text(fresh != nullptr ? fresh : EGGFALL_SOURCE_DIR "/tests/published/region_jags.csv"));
  std::map<std::string, Reference> result;
  std::string line;
  while (std::getline(lines, line)) {
    std::istringstream cells(line);
    std::string name;
    std::string quantity;
    Reference reference;
    char comma = 0;
    std::getline(cells, name, ',');
    std::getline(cells, quantity, ',');
    if (name == data_set && cells >> reference.value >> comma >> reference.monte_carlo_error)
      result[quantity] = reference;
  }
  return result;
}

double eta(double efficacy) {
  return std::log(1 - efficacy);
}

/// What the library says of the same quantities, limits at 90%.
std::map<std::string, double> worked_out(const RegionLaw& law,
                                         const std::vector<TrialLikelihood>& trials) {
  std::map<std::string, double> result;
  const auto add = [&](const std::string& name, double lower, double median, double upper) {
    result[name + " 0.05"] = lower;
    result[name + " 0.5"] = median;
    result[name + " 0.95"] = upper;
  };
  const auto add_efficacy = [&](const std::string& name, const MedianAndLimits& efficacy) {
    add(name, eta(efficacy.upper), eta(efficacy.median), eta(efficacy.lower));
  };
  add_efficacy("log median", law.median_efficacy(0.9));
  add_efficacy("log mean", law.mean_efficacy(0.9));
  const MedianAndLimits spread = law.spread(0.9);
  add("log spread", std::log(spread.lower), std::log(spread.median), std::log(spread.upper));
  add_efficacy("new farm", law.new_farm(0.9));
  for (std::size_t g = 0; g < trials.size(); ++g)
    add_efficacy("group " + std::to_string(g + 1), law.of_group(trials[g], 0.9));
  result["tested below 90 mean"] = law.groups_below(0.90, 0.9).mean;
  result["tested below 95 mean"] = law.groups_below(0.95, 0.9).mean;
  return result;
}

RegionTally tally_of(const std::vector<TrialLikelihood>& trials) {
  RegionTally tally;
  for (const TrialLikelihood& trial : trials)
    tally.add(trial);
  return tally;
}

/// How far an answer may lie from that of the chains, beside three of their own standard errors.
struct Allowed {
  double quantile = 0; ///< In standard deviations of the quantity (a 90% interval is 3.29 wide).
  double tested = 0;   ///< In groups, of the number below a threshold.
};

void compare(const std::string& data_set, const std::map<std::string, double>& ours,
             const Allowed& allowed) {
  const auto chains = references(data_set);
  for (const auto& [quantity, value] : ours) {
    REQUIRE(chains.contains(quantity));
    const Reference& reference = chains.at(quantity);
    const std::string name = quantity.substr(0, quantity.rfind(' '));
    const double model =
        chains.contains(name + " 0.05")
            ? allowed.quantile *
                  (chains.at(name + " 0.95").value - chains.at(name + " 0.05").value) / 3.29
            : allowed.tested;
    INFO(data_set << ", " << quantity << ": JAGS " << reference.value << " +/- "
                  << reference.monte_carlo_error << ", here " << value);
    CHECK(std::abs(value - reference.value) <= 3 * reference.monte_carlo_error + model);
  }
  CHECK(ours.size() == 3 * (4 + groups) + 2);
}

/// The limits of the number below a threshold against the chains' distribution of it.
void compare_limits(const std::string& data_set, const RegionLaw& law) {
  const auto chains = references(data_set);
  for (const auto& [threshold, efficacy] : {std::pair("90", 0.90), std::pair("95", 0.95)}) {
    const GroupsBelow below = law.groups_below(efficacy, 0.9);
    const auto at_most = [&, percent = std::string(threshold)](std::uint64_t number) {
      const auto found = chains.find(fmt::format("tested below {} at most {}", percent, number));
      // Not in the file: below 1% or above 99%.
      return found != chains.end() ? found->second.value
                                   : (static_cast<double>(number) > below.mean ? 1.0 : 0.0);
    };
    INFO(data_set << ", below " << threshold << "%: " << below.lower << " to " << below.upper);
    REQUIRE(below.lower > 0);
    CHECK(at_most(below.lower - 1) <= 0.05);
    CHECK(at_most(below.lower) > 0.05);
    CHECK(at_most(below.upper) >= 0.95);
    CHECK(at_most(below.upper - 1) < 0.95);
  }
}

} // namespace

TEST_CASE("The law of a region agrees with JAGS for the curves that it hears", "[reference]") {
  RegionTally tally;
  std::vector<TrialLikelihood> trials;
  for (const HeardLikelihood& of_group : heard) {
    tally.add(of_group, 1);
    trials.emplace_back(of_group);
  }
  // The quadrature's own error: limits of the hyperparameters lie up to 0.075 standard deviations
  // off, and numbers of groups less than the chains can tell.
  const RegionLaw law(tally);
  compare("curves", worked_out(law, trials), {0.08, 0.003});
  compare_limits("curves", law);
}

TEST_CASE("The law of a region agrees with JAGS for binomial counts", "[reference]") {
  const std::vector<TrialLikelihood> trials = likelihoods();
  for (std::size_t g = 0; g < groups; ++g)
    CHECK(trials[g].heard() == heard.at(g));
  // What is lost between the counts and the curves as they are heard: the place by up to an eighth
  // of a standard deviation of each trial.
  const RegionLaw law(tally_of(trials));
  compare("counts", worked_out(law, trials), {0.1, 0.1});
  compare_limits("counts", law);
}
