// A list of animals, and the sheets made of it.
#include "harness.hpp"

#include "eggfall/judgement/cut_offs.hpp"
#include "plan/field_sheets.hpp"
#include "plan/field_sheets_text.hpp"
#include "trial/read_animals.hpp"

#include <set>
#include <string>
#include <utility>

namespace {

eggfall::FieldSheetQuestion question(std::vector<eggfall::ListedAnimal> mob) {
  eggfall::FieldSheetQuestion question;
  question.host = "sheep";
  question.groups = {{"white",
                      eggfall::Role::treated,
                      "white drench",
                      {eggfall::DrugClass::bz},
                      eggfall::LabelDose::by_volume(0.2)},
                     {"control", eggfall::Role::control, "", {}, {}}};
  question.mob = std::move(mob);
  return question;
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  static const eggfall::CutOffs cut_offs = eggfall::published_cut_offs();
  const eggfall::AnimalList list = eggfall::read_animals(bytes, "mob.csv");
  std::set<std::string> tags;
  for (const eggfall::ListedAnimal& animal : list.animals) {
    promise(!animal.tag.empty() && tags.insert(animal.tag).second, "each animal has its own tag");
    promise(!animal.weight_kg || (*animal.weight_kg >= 0.1 && *animal.weight_kg <= 2'000),
            "a weight is from 0.1 to 2,000 kg");
    promise(!animal.epg || (*animal.epg >= 0 && *animal.epg <= 1'000'000),
            "an EPG is from 0 to 1,000,000");
  }
  const eggfall::FieldSheets sheets = eggfall::field_sheets(question(list.animals), cut_offs);
  promise(sheets.animals.size() == list.animals.size(), "every animal is allocated");
  promise(!eggfall::field_sheets_text(sheets).empty() &&
              !eggfall::field_sheets_page(sheets).empty(),
          "sheets can be written");
}
