// What the law of a region is worth (docs/methods.md): how often its limits of the number of tested
// groups below a threshold hold the true number, beside a model with one kind of farm.
#include "eggfall/base/random_stream.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "eggfall/statistics/comparison.hpp"
#include "statistics/region_law.hpp"

#include <CLI/CLI.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <iostream>
#include <string>
#include <vector>

namespace {

using namespace eggfall;

/// One kind of farm or two: the log of rho is normal in each.
struct Truth {
  std::string name;
  double failing = 0; ///< The share of the second kind.
  double rho_1 = 0;
  double spread_1 = 0;
  double rho_2 = 1;
  double spread_2 = 1;
};

const std::vector<Truth>& truths() {
  static const std::vector<Truth> all{
      {"one kind about 95%, wide", 0, 0.05, 0.8},
      {"one kind about 98.8%", 0, 0.012, 0.6},
      {"one kind about 92%, narrow", 0, 0.08, 0.3},
      {"30% fail (70%), 70% work (99%)", 0.3, 0.01, 0.5, 0.3, 0.4},
      {"50% fail (85%), 50% work (98%)", 0.5, 0.02, 0.3, 0.15, 0.3},
      {"10% fail (60%), 90% work (99.6%)", 0.1, 0.004, 0.7, 0.4, 0.5},
  };
  return all;
}

struct Region {
  std::vector<double> eta;
  std::vector<TrialLikelihood> trials;
};

Region invented(const Truth& truth, std::size_t groups, std::uint32_t number) {
  RandomStream stream({7, stream_group("region coverage", truth.name), number});
  boost::random::uniform_01<double> uniform;
  boost::random::normal_distribution<double> normal;
  Region region;
  for (std::uint32_t trial = 0; region.trials.size() < groups; ++trial) {
    const bool fails = uniform(stream) < truth.failing;
    const double eta = std::log(fails ? truth.rho_2 : truth.rho_1) +
                       (fails ? truth.spread_2 : truth.spread_1) * normal(stream);
    CountModel model;
    model.animals = 8 + stream.below(13);
    model.mean_eggs = std::exp(1.8 + 0.7 * normal(stream));
    model.efficacy = 1 - std::exp(eta);
    const Trial counts =
        simulate(model, {7, stream_group("region coverage", truth.name + " trials"),
                         number * 100'000U + trial})
            .trial;
    const auto comparison = compare(Design::paired, counts.groups.front(), nullptr);
    if (totals_of(comparison->arms.front().below).eggs == 0)
      continue; // it says nothing, and is in no survey
    region.eta.push_back(eta);
    region.trials.emplace_back(*comparison);
  }
  return region;
}

struct Limits {
  double mean = 0;
  double lower = 0;
  double upper = 0;
};

double normal_quantile_90 = 1.6448536;

/// The number above each eta by one kind of farm, Student's t with 4 degrees of freedom about a
/// mean (normal about log 0.05, 2) with a scale (half-normal, 1.5): by plain sums over a grid.
std::vector<Limits> by_one_kind(const Region& region, const std::vector<double>& above) {
  constexpr int points = 160;
  constexpr double low = -9.2;
  constexpr double step = 11.0 / points;
  struct Node {
    double log_weight = 0;
    std::vector<double> mean;
    std::vector<double> variance;
  };
  std::vector<std::vector<double>> likelihood;
  for (const TrialLikelihood& trial : region.trials) {
    likelihood.emplace_back();
    for (int i = 0; i < points; ++i)
      likelihood.back().push_back(std::exp(std::max(-600.0, trial.log_at(low + step * (i + 0.5)))));
  }
  std::vector<Node> nodes;
  for (double mean = -7; mean <= 0.5; mean += 0.125)
    for (double log_scale = std::log(0.08); log_scale < std::log(3.0); log_scale += 0.2) {
      const double scale = std::exp(log_scale);
      Node node{-(mean + 2.9957) * (mean + 2.9957) / 8 - scale * scale / 4.5 + log_scale,
                std::vector<double>(above.size()), std::vector<double>(above.size())};
      std::vector<double> density;
      for (int i = 0; i < points; ++i) {
        const double z = (low + step * (i + 0.5) - mean) / scale;
        density.push_back(std::pow(1 + z * z / 4, -2.5) / scale * step);
      }
      for (const std::vector<double>& of_trial : likelihood) {
        double all = 0;
        std::vector<double> part(above.size());
        for (int i = 0; i < points; ++i) {
          const double mass =
              of_trial[static_cast<std::size_t>(i)] * density[static_cast<std::size_t>(i)];
          all += mass;
          for (std::size_t t = 0; t < above.size(); ++t)
            part[t] += mass * std::clamp((low + step * (i + 1) - above[t]) / step, 0.0, 1.0);
        }
        node.log_weight += std::log(all);
        for (std::size_t t = 0; t < above.size(); ++t) {
          node.mean[t] += part[t] / all;
          node.variance[t] += part[t] / all * (1 - part[t] / all);
        }
      }
      nodes.push_back(std::move(node));
    }
  const double highest = std::ranges::max_element(nodes, {}, &Node::log_weight)->log_weight;
  std::vector<Limits> result;
  for (std::size_t t = 0; t < above.size(); ++t) {
    double sum = 0;
    double mean = 0;
    double square = 0;
    for (const Node& node : nodes) {
      const double weight = std::exp(node.log_weight - highest);
      sum += weight;
      mean += weight * node.mean[t];
      square += weight * (node.variance[t] + node.mean[t] * node.mean[t]);
    }
    mean /= sum;
    const double reach = normal_quantile_90 * std::sqrt(std::max(0.0, square / sum - mean * mean));
    result.push_back({mean, std::floor(mean - reach + 0.5), std::ceil(mean + reach - 0.5)});
  }
  return result;
}

struct Score {
  int regions = 0;
  int held = 0;
  int too_few = 0; ///< The truth above the limits: more groups fail than they say.
  double bias = 0;
  double width = 0;

  void add(const Limits& limits, double truth, double groups) {
    ++regions;
    held += truth >= limits.lower && truth <= limits.upper ? 1 : 0;
    too_few += truth > limits.upper ? 1 : 0;
    bias += (limits.mean - truth) / groups;
    width += (limits.upper - limits.lower) / groups;
  }

  std::string words() const {
    return fmt::format("{:5.0f}{:6.0f}{:7.1f}{:7.1f}", 100.0 * held / regions,
                       100.0 * too_few / regions, 100 * bias / regions, 100 * width / regions);
  }
};

} // namespace

int main(int argc, char** argv) {
  std::uint32_t regions = 200;
  std::size_t groups = 40;
  bool check = false;
  CLI::App app("How often the limits of the law of a region hold the true number of groups");
  app.add_option("--regions", regions, "Invented regions of each kind")->capture_default_str();
  app.add_option("--groups", groups, "Groups of a region")->capture_default_str();
  app.add_flag("--check", check, "Fail where 90% limits hold the truth in fewer than 70 of 100");
  CLI11_PARSE(app, argc, argv);
  const std::vector<double> efficacies{0.90, 0.95};
  bool honest = true;
  std::cout << fmt::format(
      "{} regions of {} groups; of 90% limits: held %, truth above %, bias and "
      "width in points\n{:36}{:>25}{:>25}{:>25}\n",
      regions, groups, "", "two kinds, 90%", "two kinds, 95%", "one kind");
  for (const Truth& truth : truths()) {
    std::array<Score, 3> of_efficacy;
    std::array<Score, 2> of_95; // of 95% limits
    std::array<Score, 2> one_kind;
    double seconds = 0;
    for (std::uint32_t number = 0; number < regions; ++number) {
      const Region region = invented(truth, groups, number);
      const auto start = std::chrono::steady_clock::now();
      RegionTally tally;
      for (const TrialLikelihood& trial : region.trials)
        tally.add(trial);
      const RegionLaw law(tally);
      std::vector<double> true_numbers;
      const auto n = static_cast<double>(groups);
      for (std::size_t t = 0; t < efficacies.size(); ++t) {
        const double bar = std::log(1 - efficacies[t]);
        true_numbers.push_back(static_cast<double>(
            std::ranges::count_if(region.eta, [&](double eta) { return eta > bar; })));
        for (const auto& [level, scores] :
             {std::pair(0.90, of_efficacy.data()), std::pair(0.95, of_95.data())}) {
          const GroupsBelow below = law.groups_below(efficacies[t], level);
          scores[t].add(
              {below.mean, static_cast<double>(below.lower), static_cast<double>(below.upper)},
              true_numbers[t], n);
        }
      }
      const MedianAndLimits median = law.median_efficacy(0.9);
      if (truth.failing == 0)
        of_efficacy[2].add({median.median, median.lower, median.upper}, 1 - truth.rho_1, 1);
      seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
      const std::vector<Limits> one =
          by_one_kind(region, {std::log(1 - efficacies[0]), std::log(1 - efficacies[1])});
      for (std::size_t t = 0; t < efficacies.size(); ++t)
        one_kind[t].add(one[t], true_numbers[t], n);
    }
    for (std::size_t t = 0; t < efficacies.size(); ++t) {
      std::cout << fmt::format("{:34}<{:.0f}%{}{}{}\n", truth.name, 100 * efficacies[t],
                               of_efficacy[t].words(), of_95[t].words(), one_kind[t].words());
      honest = honest && of_efficacy[t].held >= 0.7 * of_efficacy[t].regions;
    }
    if (truth.failing == 0)
      std::cout << fmt::format("{:34}median{}\n", "", of_efficacy[2].words());
    std::cout << fmt::format("{:34}{:.2f} s a region\n", "", seconds / regions) << std::flush;
  }
  return check && !honest ? 1 : 0;
}
