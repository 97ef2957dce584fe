#include "eggfall/judgement/judgement.hpp"

#include "base/enum_names.hpp"

#include <algorithm>

namespace eggfall {
namespace {

constexpr Names<WormSource, 2> source_names{{
    {WormSource::larval_culture, "larval-culture"},
    {WormSource::eggs_told_apart, "eggs-told-apart"},
}};

WormFound found_on_the_slide(const SampleSummary& sample) {
  if (sample.animals == 0)
    return {};
  return {std::nullopt, sample.eggs, sample.mean_epg};
}

} // namespace

std::string_view to_string(WormSource source) {
  return name_of(source_names, source, "a way to tell worms");
}

WormFound found_before(const WormAnalysis& worm) {
  if (worm.evidence.larvae)
    return {worm.evidence.larvae->below.front(), std::nullopt, std::nullopt};
  return found_on_the_slide(compared_with(worm.evidence));
}

WormFound found_after(const WormAnalysis& worm) {
  if (worm.evidence.larvae)
    return {worm.evidence.larvae->above.front(), std::nullopt, std::nullopt};
  return found_on_the_slide(worm.evidence.after);
}

Design design_of(const WormAnalysis& worm) {
  return worm.evidence.design.value_or(Design::paired);
}

const Verdict& first_given(const std::vector<Verdict>& verdicts) {
  const auto given = std::ranges::find_if(verdicts, [](const Verdict& verdict) {
    return verdict.verdict_class != VerdictClass::not_applicable;
  });
  return given == verdicts.end() ? verdicts.front() : *given;
}

const Verdict& verdict_of(const WormAnalysis& worm) {
  return first_given(worm.judgement.verdicts);
}

bool survives(const WormAnalysis& worm) {
  const VerdictClass found = worm.judgement.standing.verdict_class;
  return found == VerdictClass::resistant || found == VerdictClass::low_resistant;
}

bool may_survive(const WormAnalysis& worm) {
  const Verdict& verdict = verdict_of(worm);
  const WormFound after = found_after(worm);
  const bool was_found =
      (after.larvae && after.larvae->larvae > 0) || (after.eggs && *after.eggs > 0);
  if (verdict.verdict_class == VerdictClass::susceptible || survives(worm) || !was_found)
    return false;
  const auto& fall = worm.evidence.reduction;
  return !fall || (verdict.expected && *fall < *verdict.expected);
}

} // namespace eggfall
