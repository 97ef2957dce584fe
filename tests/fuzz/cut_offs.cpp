// A user's own cut-offs, put to groups that they may be for.
#include "harness.hpp"

#include "eggfall/judgement/cut_offs.hpp"
#include "report/cut_offs_text.hpp"

#include <string>
#include <vector>

namespace {

std::vector<eggfall::Group> groups() {
  eggfall::Group plain;
  plain.name = "A";
  eggfall::Group known = plain;
  known.host = "sheep";
  known.worm = "strongyles";
  known.drench = "Moxidectin, long-acting";
  known.classes = {eggfall::DrugClass::ml};
  eggfall::Group combined = known;
  combined.classes = {eggfall::DrugClass::bz, eggfall::DrugClass::lv};
  return {plain, known, combined};
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const eggfall::CutOffs cut_offs = eggfall::read_cut_offs(bytes, "own.toml");
  promise(!cut_offs.criteria.empty(), "cut-offs have criteria");
  for (const eggfall::Criteria& criteria : cut_offs.criteria) {
    promise(criteria.level > 0 && criteria.level < 1, "a level is between 0 and 1");
    for (const eggfall::CutOff& row : criteria.cut_offs)
      promise(row.expected >= 0 && row.expected <= 1 && row.lower.value_or(0) <= row.expected &&
                  row.citation.provenance == eggfall::Provenance::user,
              "thresholds are proportions in order, and the user's own");
    for (const eggfall::Group& group : groups()) {
      const eggfall::CutOffChoice choice = eggfall::choose_cut_off(criteria, group);
      promise((choice.cut_off == nullptr) != choice.why_not.empty(),
              "a group has a cut-off, or a reason why it has none");
      eggfall::minima_for(criteria, group);
    }
    promise(!eggfall::criteria_explained(criteria).empty(), "criteria can be explained");
  }
  for (const eggfall::Group& group : groups())
    eggfall::window_for(cut_offs, group);
  promise(!eggfall::cut_offs_list(cut_offs).empty() && !eggfall::cut_offs_json(cut_offs).empty(),
          "cut-offs can be written");
}
