#include "intake/untreated_groups.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/open_question.hpp"
#include "trial/drug_words.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {
namespace {

void give_role(RawAnimal& animal, Role role) {
  animal.attributes["role"] =
      RawCell{std::string(to_string(role)), animal.tag.source, animal.tag.line, 0, {}};
}

/// A word of a longer name, "Kontrolle unbehandelt". Short words for nothing, and water, stand in
/// names of paddocks too.
bool has_untreated_word(const std::string& group, const TableWords& words) {
  constexpr std::size_t shortest = 6;
  const std::string name = plain_words(group);
  for (std::size_t start = 0; start < name.size();) {
    const std::size_t end = std::min(name.find(' ', start), name.size());
    const std::string word = name.substr(start, end - start);
    if (word.size() >= shortest && word.size() < name.size() && words.role(word) == Role::control)
      return true;
    start = end + 1;
  }
  return false;
}

/// "-" or "n/a" where a drench would stand. (Of longer words for none seen, "clear" is a drench.)
bool is_mark_for_nothing(const std::string& group, const TableWords& words) {
  constexpr std::size_t longest = 3;
  return group == "0" ||
         (character_count(group) <= longest && words.cell(group) == CellWord::two_readings);
}

/// By a word of any language, or by a mark for nothing.
bool says_untreated(const std::string& group, const TableWords& words) {
  return sounds_untreated(group) || words.role(group) == Role::control ||
         has_untreated_word(group, words) || is_mark_for_nothing(group, words) ||
         words.yes_or_no(group) == false;
}

/// "C" is a control beside "T" or a drench by its name, and a group like others beside "A" and "B".
bool is_drenched(const std::string& group) {
  return look_of(group) == "t" || !substances_in(group).empty();
}

/// What a row says of a drench or a dose; null if it says nothing of either. A day of treatment is
/// none: clerks write that of the test into every row.
const RawCell* treatment_in(const RawAnimal& animal, const TableWords& words) {
  for (const std::string name : {"drench", "class", "dose_ml"})
    if (const auto found = animal.attributes.find(name);
        found != animal.attributes.end() && names_a_treatment(found->second.text, words))
      return &found->second;
  return nullptr;
}

/// Whether "untreated" in a column of drenches, and no column of roles, made it a control.
bool is_control_by_drench(const RawAnimal& animal, const TableWords& words) {
  const auto role = animal.attributes.find("role");
  if (role == animal.attributes.end() || role->second.text != to_string(Role::control))
    return false;
  const std::vector<HeadPiece> pieces = words.pieces_of(role->second.head);
  return std::ranges::find(pieces, HeadWord::drench, &HeadPiece::means) != pieces.end() &&
         std::ranges::find(pieces, HeadWord::role, &HeadPiece::means) == pieces.end();
}

/// A group that is called control and was given a drench may be the drench that is on trial: it
/// would have no verdict at all, and the others would be compared with it.
void ask_for_drenched_control(const std::vector<RawAnimal>& animals, const std::string& group,
                              const TableWords& words) {
  for (const RawAnimal& animal : animals)
    if (const RawCell* const given = animal.group == group ? treatment_in(animal, words) : nullptr)
      throw OpenQuestion(
          given->problem(fmt::format("{} for {} of the group {}, which is called untreated",
                                     in_quotes(given->text), in_quotes(animal.tag.text),
                                     in_quotes(group)),
                         {}),
          {answer("control", group, "if it was not treated"),
           answer("treated", group, "if it was")});
}

} // namespace

bool names_a_treatment(std::string_view text, const TableWords& words) {
  if (trimmed(text).empty() || words.role(text) == Role::control || words.cell(text) ||
      words.yes_or_no(text) == false)
    return false;
  const auto number = parse_number(text);
  return !number || *number > 0;
}

void take_treated(std::vector<RawAnimal>& animals, const Layout& layout) {
  for (RawAnimal& animal : animals)
    if (std::ranges::find(layout.treated, animal.group) != layout.treated.end())
      give_role(animal, Role::treated);
}

void take_control_by_name(std::vector<RawAnimal>& animals, const Layout& layout,
                          const ReadOptions& options, ReadingLog& log) {
  constexpr std::size_t longest_cut_short = 4; // "ctrl" is asked about
  std::set<std::string> by_drench;
  for (const RawAnimal& animal : animals)
    if (options.control != animal.group && !by_drench.contains(animal.group) &&
        is_control_by_drench(animal, layout.words())) {
      by_drench.insert(animal.group);
      ask_for_drenched_control(animals, animal.group, layout.words());
    }
  std::set<std::string> without_role;
  for (const RawAnimal& animal : animals) {
    const auto role = animal.attributes.find("role");
    if (role == animal.attributes.end())
      without_role.insert(animal.group);
    else if (role->second.text == to_string(Role::control))
      return;
  }
  std::erase_if(without_role, [&](const std::string& group) {
    return layout.words().role(group) != Role::control ||
           plain_words(group).size() <= longest_cut_short;
  });
  if (!options.control.empty() || without_role.size() != 1)
    return;
  const std::string& name = *without_role.begin();
  ask_for_drenched_control(animals, name, layout.words());
  for (RawAnimal& animal : animals)
    if (animal.group == name)
      give_role(animal, Role::control);
  log.tell(fmt::format("the group {} is taken for the untreated control (", in_quotes(name)) +
           Mention{Setting::treated, name} + ", if it was treated)");
}

void take_no_doses(std::vector<RawAnimal>& animals, const ReadOptions& options, ReadingLog& log) {
  std::set<std::string> untreated; // one row of a group says it for all
  for (const RawAnimal& animal : animals)
    if (const auto role = animal.attributes.find("role");
        (role != animal.attributes.end() && role->second.text == to_string(Role::control)) ||
        (!options.control.empty() && animal.group == options.control))
      untreated.insert(animal.group);
  std::size_t doses = 0;
  for (RawAnimal& animal : animals)
    for (const char* const name : {"dose_ml", "label_ml_per_kg", "label_mg_per_kg"}) {
      const auto dose = animal.attributes.find(name);
      if (dose == animal.attributes.end() || !untreated.contains(animal.group) ||
          parse_number(dose->second.text) != 0.0)
        continue;
      doses += dose->first == "dose_ml" ? 1 : 0;
      animal.attributes.erase(dose);
    }
  if (doses > 0)
    log.tell(fmt::format("a dose of 0 is taken for no dose in {} row{} of untreated animals", doses,
                         doses == 1 ? "" : "s"));
}

void refuse_silent_controls(const std::vector<RawAnimal>& animals, const Layout& layout,
                            const ReadOptions& options, Problems& problems) {
  if (options.needed != NeededCounts::before_and_after)
    return;
  std::map<std::string, const RawAnimal*> first_of; // group by group: their names are few
  std::set<std::string> with_role;                  // one row of a group says it for all
  std::vector<std::string> groups;                  // in the table's order
  for (const RawAnimal& animal : animals) {
    if (first_of.emplace(animal.group, &animal).second)
      groups.push_back(animal.group);
    if (animal.attributes.contains("role"))
      with_role.insert(animal.group);
  }
  const bool some_drenched = std::ranges::any_of(groups, is_drenched);
  for (const std::string& group : groups) {
    if (group == options.control || with_role.contains(group) ||
        !(says_untreated(group, layout.words()) || (look_of(group) == "c" && some_drenched)))
      continue;
    const RawCell& tag = first_of.at(group)->tag;
    problems.add({tag.source, tag.line, 0, "role",
                  fmt::format("no role for group {}, whose name says untreated", in_quotes(group)),
                  "control in its column role, or " + Mention{Setting::control, group} + "; " +
                      Mention{Setting::treated, group} + ", if it was treated"});
  }
}

} // namespace eggfall
