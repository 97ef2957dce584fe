#include "judgement_checks.hpp"

#include "contradicts.hpp"
#include "eggfall/report/analysis_csv.hpp"
#include "eggfall/report/analysis_json.hpp"
#include "eggfall/report/analysis_page.hpp"
#include "eggfall/report/analysis_text.hpp"
#include "judgement/judge.hpp"
#include "report/farmer_letter.hpp"
#include "report/farmer_part.hpp"
#include "report/farmer_words.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

using namespace eggfall;

namespace {

/// Sums of chances are right to this: they are differences of doubles near 1.
constexpr double rounding = 1e-9;

/// Limits of two levels that are one and the same resample are found by halving, each from another
/// side, so that their last digits may differ.
constexpr double same_resample = 1e-9;

bool is_good(DrenchSign sign) {
  return sign == DrenchSign::works || sign == DrenchSign::works_with_care;
}

std::string shown(const Standing& standing) {
  std::string bars;
  for (const Bar& bar : standing.bars)
    bars += fmt::format(" {}", to_string(bar.code));
  return fmt::format("{}, by the counts {}, sign {:?}, bars{}", to_string(standing.verdict_class),
                     to_string(standing.by_counts_alone), sign_words(standing.sign), bars);
}

std::string shown(const Interval& interval) {
  const auto limit = [](const std::optional<double>& value) {
    return value ? fmt::format("{}", *value) : std::string("none");
  };
  return fmt::format("{} at {}: {} to {}", to_string(interval.method), interval.level,
                     limit(interval.lower), limit(interval.upper));
}

class JudgementChecks {
public:
  JudgementChecks(Tally& tally, const SweptTrial& swept) : tally_(tally), swept_(swept) {}

  void check_group(const GroupAnalysis& group) {
    check_evidence(group.evidence);
    check_own(group.judgement, group.judgement.first_verdict());
    for (const VisitFall& visit : group.course.visits)
      check_interval(visit.interval);
    for (const WormAnalysis& worm : group.judgement.worms) {
      check_evidence(worm.evidence);
      check_own(worm.judgement, worm.judgement.first_verdict());
    }
    check("a caveat says something",
          std::ranges::none_of(group.caveats,
                               [](const Caveat& caveat) { return caveat.text.empty(); }),
          [] { return std::string("empty"); });
  }

private:
  template <typename What> void check(std::string_view invariant, bool holds, What&& what) {
    tally_.check(swept_, fmt::format("standing: {}", invariant), holds, std::forward<What>(what));
  }

  void check_interval(const Interval& interval) {
    const auto is_number = [](const std::optional<double>& limit) {
      return !limit || std::isfinite(*limit);
    };
    check("limits are numbers in order, at most 100%",
          is_number(interval.lower) && is_number(interval.upper) &&
              (!interval.usable() || (*interval.lower <= *interval.upper && *interval.upper <= 1)),
          [&] { return shown(interval); });
  }

  void check_evidence(const GroupEvidence& evidence) {
    for (const Interval& interval : evidence.intervals)
      check_interval(interval);
    for (const DesignEstimate& other : evidence.other_designs)
      for (const Interval& interval : other.intervals)
        check_interval(interval);
    check("a fall is a number, at most 100%",
          !evidence.reduction || (std::isfinite(*evidence.reduction) && *evidence.reduction <= 1),
          [&] { return fmt::format("{}", *evidence.reduction); });
    if (!evidence.law)
      return;
    const std::vector<GuardedPart> parts = guarded_parts(*evidence.law);
    for (std::size_t i = 1; i < parts.size(); ++i)
      check("wider at a higher level",
            parts[i].lower <= parts[i - 1].lower + same_resample &&
                parts[i].upper >= parts[i - 1].upper - same_resample,
            [&] {
              return fmt::format("{}: {} to {}; {}: {} to {}", parts[i - 1].level,
                                 parts[i - 1].lower, parts[i - 1].upper, parts[i].level,
                                 parts[i].lower, parts[i].upper);
            });
  }

  void check_own(const Judgement& judgement, const Verdict& first) {
    for (const Verdict& verdict : judgement.verdicts) {
      if (verdict.interval)
        check_interval(*verdict.interval);
      check("a verdict has its reason", !verdict.reason.empty(),
            [&] { return std::string(to_string(verdict.verdict_class)); });
    }
    check_chances(judgement, first);
    check_standing(judgement.standing);
  }

  void check_chances(const Judgement& judgement, const Verdict& first) {
    if (!judgement.probabilities)
      return;
    const EfficacyProbabilities& chances = *judgement.probabilities;
    const auto text = [&] {
      return fmt::format("{} below the lower, {} between, {} above", chances.below_lower,
                         chances.between, chances.at_least_expected);
    };
    check("chances are some, and sum to 1",
          std::min({chances.below_expected, chances.below_lower, chances.between,
                    chances.at_least_expected}) >= 0 &&
              std::abs(chances.below_lower + chances.between + chances.at_least_expected - 1) <=
                  rounding &&
              chances.below_lower <= chances.below_expected + rounding,
          text);
    const Verdict& verdict = judgement.own_fall ? judgement.own_fall->verdict : first;
    const bool has_limits =
        verdict.interval && verdict.interval->usable() && verdict.lower && verdict.expected;
    check("no chance contradicts its verdict", !has_limits || !contradicts(verdict, chances),
          [&] { return shown(*verdict.interval) + "; " + text(); });
  }

  void check_standing(const Standing& standing) {
    const auto what = [&] { return shown(standing); };
    check("a barred trial is not called good",
          !is_barred(standing) ||
              (!is_good(standing.sign) && standing.verdict_class != VerdictClass::susceptible),
          what);
    check("without a bar the counts decide",
          !standing.bars.empty() || standing.verdict_class == standing.by_counts_alone, what);
    check("only a susceptible standing is called good",
          is_good(standing.sign) == (standing.verdict_class == VerdictClass::susceptible), what);
    check("care has its sign",
          standing.care.has_value() == (standing.sign == DrenchSign::works_with_care), what);
    check("a bar says why, and what to do",
          std::ranges::none_of(standing.bars,
                               [](const Bar& bar) {
                                 return bar.text.empty() || bar.plain.empty() ||
                                        bar.next_step.text().empty();
                               }),
          what);
  }

  Tally& tally_;
  const SweptTrial& swept_;
};

std::vector<const Standing*> all_standings(const TrialAnalysis& analysis) {
  std::vector<const Standing*> all;
  for (const GroupAnalysis& group : analysis.groups) {
    all.push_back(&group.judgement.standing);
    for (const WormAnalysis& worm : group.judgement.worms)
      all.push_back(&worm.judgement.standing);
  }
  return all;
}

/// Drawings of this sign in a page: each is called by its words.
std::size_t drawn(const pugi::xml_document& page, DrenchSign sign) {
  const std::string words(sign_words(sign));
  const pugi::xpath_query query("//svg[contains(concat(' ', @class, ' '), ' sign ')]/title");
  std::size_t found = 0;
  for (const pugi::xpath_node node : page.select_nodes(query))
    found += words == node.node().text().get() ? 1U : 0U;
  return found;
}

std::string words_of(const TextDocument& letter) {
  std::string text;
  for (const TextPart& part : letter.parts)
    for (const TextBlock& block : part) {
      if (const auto* const paragraph = std::get_if<TextParagraph>(&block))
        for (const TextRun& run : paragraph->runs)
          text += run.text + '\n';
      if (const auto* const table = std::get_if<TextTable>(&block))
        for (const auto& row : table->rows)
          text += fmt::format("{}\n", fmt::join(row, "\n"));
    }
  return text;
}

std::size_t times_in(const std::string& text, std::string_view words) {
  std::size_t found = 0;
  for (std::size_t position = text.find(words); position != std::string::npos;
       position = text.find(words, position + 1))
    ++found;
  return found;
}

} // namespace

void check_judgement(Tally& tally, const SweptTrial& swept, const TrialAnalysis& analysis) {
  JudgementChecks checks(tally, swept);
  for (const GroupAnalysis& group : analysis.groups)
    checks.check_group(group);
}

void check_writers(Tally& tally, const SweptTrial& swept, const TrialAnalysis& analysis,
                   const AnalysisSettings& settings) {
  const std::vector<const Standing*> standings = all_standings(analysis);
  // The farmer's part shows each twice: in the strip, and beside what it means.
  pugi::xml_document page;
  add_farmer_part(page, analysis);
  for (const DrenchSign sign : {DrenchSign::works, DrenchSign::works_with_care}) {
    const auto standing = static_cast<std::size_t>(
        std::ranges::count_if(standings, [&](const Standing* each) { return each->sign == sign; }));
    tally.check(swept, "written: the farmer's part has as many ticks as drenches that work",
                drawn(page, sign) == 2 * standing, [&] {
                  return fmt::format("{} drawn of {:?}, {} standings", drawn(page, sign),
                                     sign_words(sign), standing);
                });
  }
  const std::string letter = words_of(farmer_letters({analysis}));
  std::size_t good = 0;
  for (const GroupAnalysis& group : analysis.groups) {
    const Standing& standing = group.judgement.standing;
    good += is_good(standing.sign) ? 1U : 0U;
    tally.check(swept, "written: there is something to do next",
                !group.advice.next_step.text().empty(), [&] { return shown(standing); });
    const std::string heading = fmt::format("{}: Works", group.evidence.group.name);
    tally.check(swept, "written: the letter says \"Works\" of a drench that works alone",
                (times_in(letter, heading) > 0) == is_good(standing.sign),
                [&] { return shown(standing); });
  }
  const bool any_good =
      std::ranges::any_of(standings, [](const Standing* each) { return is_good(each->sign); });
  tally.check(swept, "written: a letter of no drench that works does not say \"Works\"",
              any_good || letter.find("Works") == std::string::npos,
              [&] { return letter.substr(0, 300); });
  tally.check(swept, "written: the letter says of as many drenches that they do what one should",
              times_in(letter, "That is what a drench that works does.") <= good,
              [&] { return letter.substr(0, 300); });

  const std::string json = analysis_json({analysis}, settings);
  const nlohmann::json parsed = nlohmann::json::parse(json);
  for (std::size_t g = 0; g < analysis.groups.size(); ++g) {
    const auto& written = parsed.at("trials").at(0).at("groups").at(g).at("standing");
    const Standing& standing = analysis.groups[g].judgement.standing;
    tally.check(swept, "written: JSON has the class of the standing, and its bars",
                written.at("class") == std::string(to_string(standing.verdict_class)) &&
                    written.at("bars").size() == standing.bars.size() &&
                    !(is_barred(standing) && written.at("class") == "susceptible"),
                [&] { return written.dump(); });
  }
  for (const std::string& text :
       {json, analysis_csv({analysis}), analysis_summary(analysis, Verbosity::full),
        analysis_report({analysis}, settings)}) {
    const std::size_t start =
        std::min({text.find("nan%"), text.find("inf%"), text.find(",nan"), text.find(",inf"),
                  text.find("-inf"), text.find("\"nan"), text.find(" nan")});
    tally.check(swept, "written: no text shows what is no number", start == std::string::npos,
                [&] { return text.substr(start > 60 ? start - 60 : 0, 100); });
  }
}

std::string said(const TrialAnalysis& analysis) {
  std::string text;
  const auto add = [&](const Interval& interval) {
    text += shown(interval) + interval.why_not + ";";
  };
  const auto add_judgement = [&](const Judgement& judgement) {
    for (const Verdict& verdict : judgement.verdicts)
      text += fmt::format("{};", to_string(verdict.verdict_class));
    text += shown(judgement.standing);
    if (judgement.probabilities)
      text += fmt::format(" {} {};", judgement.probabilities->below_lower,
                          judgement.probabilities->below_expected);
  };
  for (const GroupAnalysis& group : analysis.groups) {
    for (const Interval& interval : group.evidence.intervals)
      add(interval);
    add_judgement(group.judgement);
    for (const WormAnalysis& worm : group.judgement.worms) {
      text += worm.worm;
      add(worm.evidence.headline);
      add_judgement(worm.judgement);
    }
    for (const Caveat& caveat : group.caveats)
      text += fmt::format("{};", to_string(caveat.code));
    text += '\n';
  }
  return text;
}

Trial under_other_names(Trial trial) {
  trial.name = "another";
  for (Group& group : trial.groups) {
    group.name += " under another name";
    std::ranges::reverse(group.animals);
    for (Animal& animal : group.animals)
      animal.tag += "x";
  }
  return trial;
}
