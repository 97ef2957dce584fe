#include "report/ranking_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "report/ranking_words.hpp"

#include <fmt/format.h>

#include <string_view>
#include <vector>

namespace eggfall {
namespace {

constexpr std::size_t name_width = 24;

std::string paragraph(std::string_view text) {
  return eggfall::paragraph(text, screen_width, "  ");
}

/// The class, or of a good one that is to be taken with care just that: there is no room for both.
std::string_view class_or_care(const Standing& standing) {
  return standing.care ? "with care" : to_string(standing.verdict_class);
}

std::string table(const TrialAnalysis& trial) {
  std::string out = fmt::format("{:<51}{:>29}\n", "Which drench?", "chance, of 100, that it is");
  out += fmt::format("{:<26}{:>9}  {:<14}{:>9}{:>20}\n", "", "fall", "verdict", "the best",
                     "or within 2 points");
  for (const RankedGroup& group : trial.ranking->groups)
    out += named_row(
        group.group, name_width,
        fmt::format("{:>9}  {:<14}{:>9}{:>20}",
                    percent_or_missing(analysis_of(trial, group.group).evidence.reduction),
                    class_or_care(analysis_of(trial, group.group).judgement.standing),
                    of_100(group.best), of_100(group.close_to_best)));
  return out;
}

std::string ratio_text(double ratio) {
  constexpr double small = 0.001;
  constexpr double large = 1000;
  if (ratio < small)
    return "under 0.001";
  return ratio > large ? "over 1,000" : fmt::format("{:.2g}", ratio);
}

std::string pairs_table(const Ranking& ranking) {
  std::string out = "\n  Pair by pair: the chance, of 100, that the first removes more; and the "
                    "eggs it\n  leaves for each egg left by the second, " +
                    fmt::format("{:g}% interval\n", 100 * ranking.level);
  for (const RankedPair& pair : ranking.pairs)
    out +=
        named_row(fmt::format("{} against {}", pair.first, pair.second), 40,
                  fmt::format("{:>10}  {:>11} to {:>11}", of_100(pair.first_better),
                              ratio_text(pair.eggs_left.lower), ratio_text(pair.eggs_left.upper)));
  return out;
}

} // namespace

std::string ranking_summary(const TrialAnalysis& trial, Verbosity verbosity) {
  if (!trial.ranking)
    return {};
  const Ranking& ranking = *trial.ranking;
  std::string out = ranking.groups.empty() ? "Which drench?\n" : table(trial);
  for (const std::string& sentence : ranking_sentences(trial))
    out += paragraph(sentence);
  if (verbosity == Verbosity::full && !ranking.groups.empty())
    out += pairs_table(ranking);
  if (!trial.combinations.empty())
    out += "\nBetter together?\n";
  for (const std::string& sentence : combination_sentences(trial))
    out += paragraph(sentence);
  return out;
}

} // namespace eggfall
