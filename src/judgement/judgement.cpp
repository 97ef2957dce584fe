#include "judgement/judgement.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {

CutOffs ordered(CutOffs cut_offs, const std::string& first) {
  if (cut_offs.criteria.empty())
    throw InputError("no criteria to judge by; expected at least one");
  if (first.empty())
    return cut_offs;
  const auto found = std::ranges::find(cut_offs.criteria, first, &Criteria::name);
  if (found == cut_offs.criteria.end()) {
    std::string names;
    for (const Criteria& criteria : cut_offs.criteria)
      names += (names.empty() ? "" : ", ") + criteria.name;
    throw InputError(
        fmt::format("--criteria: found {}; expected one of {}", in_quotes(first), names));
  }
  std::rotate(cut_offs.criteria.begin(), found, found + 1);
  return cut_offs;
}

std::vector<Evidence> evidence_of(const Group& group, const Group* control,
                                  const std::optional<Design>& design,
                                  const BootstrapSettings& bootstrap,
                                  const PosteriorPriors& priors) {
  const auto first = design ? design : preferred_design(group, control);
  std::vector<Evidence> all;
  const auto add = [&](Design of) {
    if (auto comparison = compare(of, group, control))
      all.emplace_back(std::move(*comparison), bootstrap, priors);
  };
  if (first)
    add(*first);
  if (all.empty())
    return all;
  for (const Design other : all_designs)
    if (other != *first)
      add(other);
  return all;
}

const Evidence* evidence_for(const Criteria& criteria, const std::vector<Evidence>& all) {
  // The 1992 rule compares the treated with the control group after treatment;
  // the counts before stand in for a missing control.
  if (criteria.method == Method::log_ratio_1992)
    for (const Evidence& evidence : all)
      if (evidence.comparison().design == Design::two_group)
        return &evidence;
  return all.empty() ? nullptr : &all.front();
}

Verdict judge(const Criteria& criteria, const Group& group, Design design,
              const std::optional<double>& reduction, const Interval& interval) {
  const CutOffChoice choice = choose_cut_off(criteria, group);
  Verdict verdict = classify(criteria, choice, reduction, interval);
  if (choice.cut_off != nullptr)
    verdict.design = design;
  return verdict;
}

Verdict judge(const Criteria& criteria, const Group& group, const Evidence* evidence) {
  const CutOffChoice choice = choose_cut_off(criteria, group);
  if (choice.cut_off == nullptr || evidence == nullptr) // spares the work of an interval
    return classify(criteria, choice, std::nullopt, {});
  return judge(criteria, group, evidence->comparison().design, evidence->reduction(),
               interval_for(criteria, *evidence));
}

TreatedCounts treated_counts(const Group& group, const Comparison* comparison) {
  TreatedCounts counts;
  if (comparison != nullptr) {
    counts.before = comparison->arms.front().below;
    counts.after = comparison->arms.front().above;
  }
  const bool pairs = !counts.before.empty();
  for (const Animal& animal : group.animals) {
    if (!pairs && animal.before)
      counts.before.push_back(*animal.before);
    if (comparison == nullptr && animal.after)
      counts.after.push_back(*animal.after);
  }
  return counts;
}

} // namespace eggfall
