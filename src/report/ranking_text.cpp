#include "report/ranking_text.hpp"

#include "base/text.hpp"
#include "eggfall/base/percent.hpp"
#include "formats/terminal_text.hpp"
#include "report/ranking_words.hpp"

#include <fmt/format.h>

#include <string_view>
#include <vector>

namespace eggfall {
namespace {

/// The class, or of a good one that is to be taken with care just that: there is no room for both.
std::string_view verdict_or_care(const Standing& standing) {
  return standing.care ? "with care" : to_string(standing.verdict_class);
}

std::string drenches_table(const TrialAnalysis& trial) {
  const TerminalTable table{2, 24, {{9}, {14, Side::left, 2}, {9}, {20}}};
  std::string out =
      TerminalTable{0, 51, {{29}}}.row("Which drench?", {"chance, of 100, that it is"});
  out += table.row("", {"fall", "verdict", "the best", "or within 2 points"});
  for (const RankedGroup& group : trial.ranking->groups) {
    const GroupAnalysis& analysis = analysis_of(trial, group.group);
    out += table.row(group.group, {percent_or_missing(analysis.evidence.reduction),
                                   std::string(verdict_or_care(analysis.judgement.standing)),
                                   of_100(group.best), of_100(group.close_to_best)});
  }
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
  const TerminalTable table{2, 40, {{10}, {11, Side::right, 2}, {4, Side::left}, {11}}};
  std::string out =
      heading(fmt::format("Pair by pair: the chance, of 100, that the first removes more; and the "
                          "eggs it leaves for each egg left by the second, {:g}% interval",
                          100 * ranking.level),
              "  ");
  for (const RankedPair& pair : ranking.pairs)
    out += table.row(fmt::format("{} against {}", pair.first, pair.second),
                     {of_100(pair.first_better), ratio_text(pair.eggs_left.lower), " to ",
                      ratio_text(pair.eggs_left.upper)});
  return out;
}

} // namespace

std::string ranking_summary(const TrialAnalysis& trial, Verbosity verbosity) {
  if (!trial.ranking)
    return {};
  const Ranking& ranking = *trial.ranking;
  std::string out = ranking.groups.empty() ? "Which drench?\n" : drenches_table(trial);
  for (const std::string& sentence : ranking_sentences(trial))
    out += paragraph(sentence, "  ");
  if (verbosity == Verbosity::full && !ranking.groups.empty())
    out += pairs_table(ranking);
  if (!trial.combinations.empty())
    out += "\nBetter together?\n";
  for (const std::string& sentence : combination_sentences(trial))
    out += paragraph(sentence, "  ");
  return out;
}

} // namespace eggfall
