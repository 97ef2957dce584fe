#include "web/design_requests.hpp"

#include "web/simulate_here.hpp"
#include "web/teaching_requests.hpp"

#include "base/date.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/version.hpp"
#include "eggfall/judgement/cut_offs.hpp"
#include "eggfall/judgement/trial_analysis.hpp"
#include "eggfall/plan/plan_question.hpp"
#include "eggfall/simulation/audit.hpp"
#include "eggfall/simulation/count_model.hpp"
#include "eggfall/trial/counting_method.hpp"
#include "eggfall/trial/egg_count.hpp"
#include "formats/drawing/inks.hpp"
#include "judgement/judge.hpp"
#include "plan/blank_counts.hpp"
#include "plan/field_sheets.hpp"
#include "plan/field_sheets_text.hpp"
#include "plan/plan_json.hpp"
#include "plan/plan_page.hpp"
#include "plan/plan_text.hpp"
#include "plan/work_out_plan.hpp"
#include "simulation/read_scenario.hpp"
#include "trial/drug_words.hpp"
#include "trial/field_words.hpp"
#include "trial/name_words.hpp"
#include "trial/possible_values.hpp"
#include "trial/read_animals.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall::web {
namespace {

std::vector<DrugClass> classes_in(Fields& fields, std::string_view name) {
  const std::string text = fields.text(name);
  if (text.empty())
    return {};
  const auto classes = parse_drug_classes(text);
  if (!classes)
    throw InputError(fmt::format("{}: found {}; expected {}", fields.place(name), in_quotes(text),
                                 expected_drug_classes(text)));
  return *classes;
}

PlannedFlock flock_of(Fields& fields) {
  PlannedFlock flock;
  flock.host = host_told(fields.text("host"));
  if (flock.host.empty())
    flock.host = "sheep";
  flock.worm = canonical_worm(fields.text("worm"));
  for (const std::string& name : fields.texts("classes")) {
    const auto drug_class = parse_drug_class(name);
    if (!drug_class)
      throw InputError(fmt::format("classes: found {}; expected {}", in_quotes(name),
                                   expected_drug_class(name)));
    if (std::ranges::find(flock.classes, *drug_class) == flock.classes.end())
      flock.classes.push_back(*drug_class);
  }
  const auto mean = fields.number("meanEpg", PlannedFlock::means_epg);
  if (!mean)
    throw InputError("meanEpg: found nothing; expected the mean count before treatment, EPG");
  flock.mean_epg = *mean;
  if (const auto k = fields.number("k", CountModel::k_range))
    flock.k = *k;
  if (const auto within = fields.number("withinCv", CountModel::within_cv_range))
    flock.within_cv = *within;
  if (const auto change = fields.number("seasonChange", CountModel::season_changes))
    flock.season_change = *change;
  if (const auto animals = fields.whole("available", 1, PlannedFlock::most_animals))
    flock.animals = static_cast<std::size_t>(*animals);
  return flock;
}

PlanChoices choices_of(Fields& fields) {
  PlanChoices choices;
  choices.group_sizes =
      fields.wholes("animals", PlanChoices::least_in_group, PlanChoices::most_in_group);
  if (choices.group_sizes.empty())
    choices.group_sizes.assign(PlanChoices::usual_sizes.begin(), PlanChoices::usual_sizes.end());
  for (const std::string& name : fields.texts("designs")) {
    const auto design = parse_design(name);
    if (!design)
      throw InputError(fmt::format("designs: found {}; expected paired, two-group or controlled",
                                   in_quotes(name)));
    choices.designs.push_back(*design);
  }
  if (choices.designs.empty())
    choices.designs = {Design::paired};
  for (Fields& way : fields.objects("counting")) {
    const auto factor = way.number("factor", 0, 1e6);
    choices.counting.push_back({MultiplicationFactor(factor.value_or(0)),
                                way.number("cost", CountingChoice::costs_or_minutes),
                                way.number("minutes", CountingChoice::costs_or_minutes)});
    way.nothing_else();
  }
  if (choices.counting.empty())
    choices.counting.emplace_back();
  return choices;
}

BenchFigures bench_figures(Fields& fields) {
  BenchFigures bench;
  bench.faeces_g = fields.number("faecesG", BenchFigures::g_or_ml).value_or(0);
  bench.added_ml = fields.number("addedMl", BenchFigures::g_or_ml);
  bench.total_ml = fields.number("totalMl", BenchFigures::g_or_ml);
  bench.chambers =
      static_cast<int>(fields.whole("chambers", 1, BenchFigures::most_chambers).value_or(0));
  bench.chamber_volume_ml = fields.number("chamberMl", BenchFigures::g_or_ml);
  return bench;
}

PlannedGroup group_of(Fields& fields) {
  PlannedGroup group;
  group.name = fields.text("name");
  if (!fields.yes("untreated")) {
    group.drench = fields.text("drench");
    group.classes = classes_in(fields, "classes");
    const auto by_volume = fields.number("labelMlPerKg", rates_ml_per_kg);
    const auto by_substance = fields.number("labelMgPerKg", milligrams);
    const auto strength = fields.number("strengthMgPerMl", milligrams);
    if (by_volume && by_substance)
      throw InputError(fmt::format("{}: found two dose rates for {}; expected one", fields.where(),
                                   in_quotes(group.name)));
    if (by_substance.has_value() != strength.has_value())
      throw InputError(fmt::format("{}: found one of labelMgPerKg and strengthMgPerMl for {}; "
                                   "expected both",
                                   fields.where(), in_quotes(group.name)));
    if (by_volume)
      group.label = LabelDose::by_volume(*by_volume);
    else if (by_substance)
      group.label = LabelDose::by_substance(*by_substance, *strength);
  } else
    group.role = Role::control;
  fields.nothing_else();
  return group;
}

/// Nothing without any figure of the bench.
std::optional<FieldSheetBench> bench_of(Fields& fields) {
  if (!fields.has("bench"))
    return std::nullopt;
  Fields figures = fields.object("bench");
  FieldSheetBench bench{bench_figures(figures), 0};
  bench.chambers_after =
      static_cast<int>(figures.whole("chambersAfter", 1, BenchFigures::most_chambers)
                           .value_or(static_cast<std::uint64_t>(bench.before.chambers)));
  figures.nothing_else();
  return bench;
}

/// Each kind once.
std::vector<std::string> told_apart(Fields& fields) {
  std::vector<std::string> kinds;
  for (const std::string& kind : fields.texts("toldApart")) {
    std::string worm = canonical_worm(kind);
    if (std::ranges::find(kinds, worm) != kinds.end())
      continue;
    for (const std::string& other : kinds)
      if (may_be_one_worm(worm, other))
        throw InputError(fmt::format("toldApart: found {} beside {}; expected each worm once, or "
                                     "names that tell two worms apart",
                                     in_quotes(worm), in_quotes(other)));
    kinds.push_back(std::move(worm));
  }
  return kinds;
}

} // namespace

Reply plan_test(Fields& fields, const std::vector<std::string>&, const Surroundings& surroundings) {
  PlanWish wish;
  wish.flock = flock_of(fields);
  wish.choices = choices_of(fields);
  for (const double percent : fields.numbers("efficacies", 0, 100))
    wish.efficacies.push_back(percent / 100);
  if (wish.efficacies.empty())
    for (const double percent : PlanAim::usual_efficacies_percent)
      wish.efficacies.push_back(percent / 100);
  if (const auto power = fields.number("power", PlanAim::powers_percent))
    wish.power = *power / 100;
  if (const auto trials = fields.whole("trials", 1, AuditSettings::most_trials))
    wish.trials = static_cast<std::size_t>(*trials);
  if (const auto seed = fields.whole("seed", 0, UINT64_MAX))
    wish.seed = *seed;
  const CutOffs cut_offs = with_criteria_first(published_cut_offs(), fields.text("criteria"));
  fields.nothing_else();
  const Plan plan =
      work_out_plan(wish, cut_offs, [&](const auto& cells, const AuditSettings& settings) {
        return simulate_here(cells, settings, surroundings.progress);
      });
  return {Json::object(),
          {{"plan.html", plan_report(plan)},
           {"plan.json", plan_json(plan)},
           {"plan.csv", plan_csv(plan)}}};
}

Reply make_field_sheets(Fields& fields, const std::vector<std::string>& files,
                        const Surroundings&) {
  Reply reply;
  FieldSheetQuestion question;
  question.host = host_told(fields.text("host"));
  question.farm = fields.text("farm");
  for (Fields& group : fields.objects("groups"))
    question.groups.push_back(group_of(group));
  reply.json["noticed"] = Json::array();
  if (fields.yes("listed")) {
    if (files.empty())
      throw InputError("listed: found no file; expected the list of animals");
    const std::string name = fields.text("listName");
    AnimalList list = read_animals(files.front(),
                                   {name.empty() ? "list of animals" : name, fields.text("sheet")});
    reply.json["noticed"] = list.notes;
    question.mob = std::move(list.animals);
  }
  question.unlisted = static_cast<std::size_t>(
      fields.whole("animals", 1, FieldSheetQuestion::most_unlisted).value_or(0));
  if (const std::string blocks = fields.text("blockBy"); !blocks.empty()) {
    question.blocks = parse_blocked_by(blocks);
    if (!question.blocks)
      throw InputError(
          fmt::format("blockBy: found {}; expected count, weight or nothing", in_quotes(blocks)));
  }
  if (const auto seed = fields.whole("seed", 0, UINT64_MAX))
    question.seed = *seed;
  question.bench = bench_of(fields);
  question.told_apart = told_apart(fields);
  if (const auto step = fields.number("doseStepMl", FieldSheetQuestion::dose_steps_ml))
    question.dose_step_ml = *step;
  if (const std::string day = fields.text("day0"); !day.empty()) {
    question.day0 = parse_date(day);
    if (!question.day0)
      throw InputError(fmt::format("day0: found {}; expected a date written YYYY-MM-DD, such as "
                                   "2031-04-27",
                                   in_quotes(day)));
  }
  fields.nothing_else();
  const FieldSheets sheets = field_sheets(std::move(question), published_cut_offs());
  reply.files = {{"sheets.html", field_sheets_page(sheets)}, {"counts.csv", blank_counts(sheets)}};
  return reply;
}

Reply work_out_factor(Fields& fields, const std::vector<std::string>&, const Surroundings&) {
  const BenchFigures bench = bench_figures(fields);
  const auto wanted = fields.number("wanted", 0, 1e6);
  fields.nothing_else();
  Reply reply;
  reply.json["suspension_ml"] = suspension_ml(bench);
  if (bench.chambers == 0 && !wanted)
    throw InputError("chambers: found nothing; expected the chambers counted and their volume (the "
                     "factor), or a wanted factor (the volume to count)");
  if (bench.chambers != 0) {
    const MultiplicationFactor factor = multiplication_factor(bench);
    reply.json["counted_ml"] = bench.chambers * *bench.chamber_volume_ml;
    reply.json["factor"] = factor.value();
    reply.json["most_unseen_epg"] = most_unseen(factor).value();
  }
  if (wanted) {
    const double volume = volume_to_count_ml(bench, MultiplicationFactor(*wanted));
    reply.json["volume_to_count_ml"] = volume;
    if (bench.chamber_volume_ml && *bench.chamber_volume_ml > 0)
      reply.json["chambers_to_count"] = chambers_for(volume, *bench.chamber_volume_ml);
  }
  return reply;
}

Reply list_choices(Fields& fields, const std::vector<std::string>&, const Surroundings&) {
  fields.nothing_else();
  Json classes = Json::array();
  for (const DrugClass drug_class : all_drug_classes)
    classes.push_back(
        {{"name", to_string(drug_class)}, {"words", drug_class_in_words(drug_class)}});
  Json criteria = Json::array();
  for (const Criteria& each : published_cut_offs().criteria)
    criteria.push_back({{"name", each.name}, {"title", each.title}});
  Json lessons = Json::array();
  for (const Scenario& scenario : built_in_scenarios()) {
    Json groups = Json::array();
    for (const ScenarioGroup& group : scenario.groups)
      groups.push_back({{"name", group.name},
                        {"drench", group.drench},
                        {"classes", to_string(group.classes)},
                        {"animals", group.model.animals}});
    lessons.push_back({{"name", scenario.name},
                       {"title", scenario.title},
                       {"lesson", scenario.lesson},
                       {"ask", scenario.ask},
                       {"host", scenario.host},
                       {"groups", std::move(groups)}});
  }
  const auto range = [](double least, double most) {
    return Json{{"least", least}, {"most", most}};
  };
  const auto range_of = [&](const ValueRange& values) { return range(values.least, values.most); };
  Json ranges = {{"level", range_of(AnalysisSettings::levels_percent)},
                 {"meanEpg", range_of(PlannedFlock::means_epg)},
                 {"available", range(1, static_cast<double>(PlannedFlock::most_animals))},
                 {"groupSize", range(static_cast<double>(PlanChoices::least_in_group),
                                     static_cast<double>(PlanChoices::most_in_group))},
                 {"power", range_of(PlanAim::powers_percent)},
                 {"k", range_of(CountModel::k_range)},
                 {"withinCv", range_of(CountModel::within_cv_range)},
                 {"seasonChange", range_of(CountModel::season_changes)},
                 {"chambers", range(1, BenchFigures::most_chambers)},
                 {"doseStepMl", range_of(FieldSheetQuestion::dose_steps_ml)},
                 {"unlisted", range(2, static_cast<double>(FieldSheetQuestion::most_unlisted))},
                 {"labelMlPerKg", range_of(rates_ml_per_kg)},
                 {"labelMgPerKg", range_of(milligrams)},
                 {"strengthMgPerMl", range_of(milligrams)},
                 {"factor", range(MultiplicationFactor::smallest, MultiplicationFactor::largest)},
                 {"invented", range(1, most_invented)}};
  Reply reply;
  const std::vector<std::string_view> hosts = hosts_with_cut_offs();
  reply.json = {{"ranges", std::move(ranges)},
                {"version", version()},
                {"hosts", hosts},
                {"classes", std::move(classes)},
                {"criteria", std::move(criteria)},
                {"lessons", std::move(lessons)},
                {"ink_properties", ink_properties()}};
  return reply;
}

} // namespace eggfall::web
