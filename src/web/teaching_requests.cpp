#include "web/teaching_requests.hpp"

#include "eggfall/base/error.hpp"
#include "simulation/read_scenario.hpp"
#include "simulation/truth_json.hpp"
#include "teach/slider/slider_audit.hpp"
#include "teach/slider/slider_page.hpp"
#include "trial/counts_table.hpp"

namespace eggfall::web {

Reply simulate_tests(Fields& fields, const std::vector<std::string>&,
                     const Surroundings& surroundings) {
  const std::string own = fields.raw_text("scenario");
  const std::string name = fields.text("lesson");
  if (own.empty() == name.empty())
    throw InputError("lesson: found neither or both of lesson and scenario; expected one of them");
  const Scenario scenario =
      own.empty() ? built_in_scenario(name) : read_scenario(own, "your scenario");
  const std::uint64_t seed = fields.whole("seed", 0, UINT64_MAX).value_or(1);
  const auto count =
      static_cast<std::uint32_t>(fields.whole("trials", 1, most_invented).value_or(1));
  fields.nothing_else();
  std::vector<SimulatedTrial> simulated;
  std::vector<Trial> trials;
  for (std::uint32_t number = 0; number < count; ++number) {
    surroundings.progress(number, count);
    simulated.push_back(simulate(scenario, seed, number));
    trials.push_back(simulated.back().trial);
  }
  surroundings.progress(count, count);
  Reply reply;
  reply.json = {{"title", scenario.title}, {"lesson", scenario.lesson}, {"ask", scenario.ask}};
  reply.files = {{"counts.csv", counts_table(trials)},
                 {"truth.json", truth_json(scenario, seed, simulated)}};
  if (std::string larvae = larvae_table(trials); !larvae.empty())
    reply.files.push_back({"larvae.csv", std::move(larvae)});
  return reply;
}

Reply lesson(Fields& fields, const std::vector<std::string>&, const Surroundings& surroundings) {
  fields.nothing_else();
  const AuditResult audit = slider_audit();
  std::vector<std::vector<AuditExample>> examples;
  for (const AuditedFarm& audited : audit.farms) {
    surroundings.progress(examples.size(), audit.farms.size());
    examples.push_back(audit_examples(audited.farm, audit.settings, slider_examples));
  }
  surroundings.progress(audit.farms.size(), audit.farms.size());
  return {Json::object(), {{"lesson.html", slider_page(audit, examples)}}};
}

} // namespace eggfall::web
