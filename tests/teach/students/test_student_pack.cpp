#include "teach/students/student_pack.hpp"

#include "eggfall/base/error.hpp"
#include "simulation/read_scenario.hpp"
#include "support/support.hpp"

#include <algorithm>
#include <set>
#include <string>

using namespace eggfall;

namespace {

const Scenario& lesson(const std::string& name) {
  return *std::ranges::find(built_in_scenarios(), name, &Scenario::name);
}

const StudentPack& pack() {
  static const StudentPack made = student_pack(lesson("class"), 8, 3, published_cut_offs());
  return made;
}

} // namespace

TEST_CASE("class pack: every sheet is another test of one truth, worked out alike by hand") {
  CHECK_THAT(pack().truth, support::close_to(0.93));
  std::set<std::uint64_t> sums;
  for (const Worksheet& sheet : pack().worksheets) {
    INFO(sheet.simulated.trial.name);
    sums.insert(sheet.hand.control.squares);
    const Interval& interval =
        interval_by(sheet.analysis.evidence.intervals, Method::log_ratio_1992);
    CHECK(interval.level == StudentPack::level);
    REQUIRE(sheet.hand.lower.has_value() == interval.usable());
    CHECK_THAT(*sheet.hand.reduction, support::close_to(*sheet.analysis.evidence.reduction));
    if (interval.usable()) {
      CHECK_THAT(*sheet.hand.lower, support::close_to(*interval.lower));
      CHECK_THAT(*sheet.hand.upper, support::close_to(*interval.upper));
    }
    CHECK(sheet.analysis.judgement.verdicts.front().criteria == "waavp-1992");
  }
  CHECK(sums.size() == pack().worksheets.size());
}

TEST_CASE("class pack: a student's test does not depend on the size of the class") {
  const StudentPack three = student_pack(lesson("class"), 3, 3, published_cut_offs());
  CHECK(three.worksheets[2].simulated.trial.name == "worksheet-03");
  CHECK(three.worksheets[2].hand.control.squares == pack().worksheets[2].hand.control.squares);
  CHECK(three.worksheets[2].analysis.evidence.headline.lower ==
        pack().worksheets[2].analysis.evidence.headline.lower);
  CHECK(student_pack(lesson("class"), 3, 4, published_cut_offs())
            .worksheets[2]
            .hand.control.squares != three.worksheets[2].hand.control.squares);
}

TEST_CASE("class pack: a scenario that no class can work through is refused") {
  const CutOffs cut_offs = published_cut_offs();
  const auto refused = [&](const Scenario& scenario, std::size_t students,
                           const std::string& message) {
    INFO(message);
    CHECK(support::input_error([&] {
            student_pack(scenario, students, 1, cut_offs);
          }).find(message) != std::string::npos);
  };
  refused(lesson("class"), 0, "students: found 0; expected 1 to 200");
  refused(lesson("class"), 201, "found 201");
  refused(lesson("few-eggs"), 2, "found 1 treated groups and 0 controls");
  Scenario lost = lesson("class");
  lost.groups.front().model.missing_after = 0.1;
  refused(lost, 2, "not found again");
  Scenario pools = lesson("class");
  for (ScenarioGroup& group : pools.groups)
    group.model.animals_in_pool = 4;
  refused(pools, 2, "pools");
  Scenario horses = lesson("class");
  horses.host = "horses";
  refused(horses, 2, "found no cut-off of");
}
