#include "eggfall/judgement/caveat.hpp"

#include "base/enum_names.hpp"

#include <algorithm>

namespace eggfall {
namespace {

constexpr Names<Severity, 3> severity_names{{
    {Severity::serious, "serious"},
    {Severity::warning, "warning"},
    {Severity::note, "note"},
}};

constexpr Names<CaveatCode, all_caveat_codes.size()> code_names{{
    {CaveatCode::no_estimate, "no-estimate"},
    {CaveatCode::no_interval, "no-interval"},
    {CaveatCode::few_animals, "few-animals"},
    {CaveatCode::pooled, "pooled"},
    {CaveatCode::repeats_disagree, "repeats-disagree"},
    {CaveatCode::few_eggs_counted, "few-eggs-counted"},
    {CaveatCode::low_mean_before, "low-mean-before"},
    {CaveatCode::mean_implausible, "mean-implausible"},
    {CaveatCode::none_after, "none-after"},
    {CaveatCode::interval_optimistic, "interval-optimistic"},
    {CaveatCode::animals_differ, "animals-differ"},
    {CaveatCode::prior_matters, "prior-matters"},
    {CaveatCode::one_animal, "one-animal"},
    {CaveatCode::point_and_interval, "point-and-interval"},
    {CaveatCode::detection_limit, "detection-limit"},
    {CaveatCode::zero_before, "zero-before"},
    {CaveatCode::season_unseen, "season-unseen"},
    {CaveatCode::control_changed, "control-changed"},
    {CaveatCode::counts_rose, "counts-rose"},
    {CaveatCode::factors_differ, "factors-differ"},
    {CaveatCode::worm_survives, "worm-survives"},
    {CaveatCode::worm_in_doubt, "worm-in-doubt"},
    {CaveatCode::worms_not_told_apart, "worms-not-told-apart"},
    {CaveatCode::larvae_without_eggs, "larvae-without-eggs"},
    {CaveatCode::larvae_left_out, "larvae-left-out"},
    {CaveatCode::culture_stands_in, "culture-stands-in"},
    {CaveatCode::culture_of_several_groups, "culture-of-several-groups"},
    {CaveatCode::larvae_in_percent, "larvae-in-percent"},
    {CaveatCode::dropped, "dropped"},
    {CaveatCode::several_groups, "several-groups"},
    {CaveatCode::underdosed, "underdosed"},
    {CaveatCode::overdosed, "overdosed"},
    {CaveatCode::weights_missing, "weights-missing"},
    {CaveatCode::doses_missing, "doses-missing"},
    {CaveatCode::label_rate_missing, "label-rate-missing"},
    {CaveatCode::days_missing, "days-missing"},
    {CaveatCode::sampled_early, "sampled-early"},
    {CaveatCode::sampled_late, "sampled-late"},
    {CaveatCode::days_apart, "days-apart"},
    {CaveatCode::sampled_long_before, "sampled-long-before"},
    {CaveatCode::later_visit, "later-visit"},
    {CaveatCode::control_days, "control-days"},
    {CaveatCode::treated_apart, "treated-apart"},
    {CaveatCode::units_confirmed, "units-confirmed"},
    {CaveatCode::missing_after, "missing-after"},
    {CaveatCode::worm_absent_before, "worm-absent-before"},
    {CaveatCode::no_larvae, "no-larvae"},
    {CaveatCode::few_larvae, "few-larvae"},
    {CaveatCode::worm_absent_after, "worm-absent-after"},
}};

} // namespace

std::string_view to_string(Severity severity) {
  return name_of(severity_names, severity, "a severity");
}

std::string_view to_string(CaveatCode code) {
  return name_of(code_names, code, "a caveat");
}

bool has_caveat(const std::vector<Caveat>& caveats, CaveatCode code, Severity at_least) {
  return std::ranges::any_of(caveats, [&](const Caveat& caveat) {
    return caveat.code == code && caveat.severity <= at_least; // the most severe comes first
  });
}

} // namespace eggfall
