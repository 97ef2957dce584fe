#include "intake/same_animal.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/trial/trial.hpp"
#include "intake/day_words.hpp"
#include "intake/time_point.hpp"
#include "intake/untreated_groups.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace eggfall {
namespace {

bool is_of_treatment(std::string_view name) {
  return name == "drench" || name == "class" || name == "dose_ml" || name == "date_treated";
}

/// "line 2", with its file or sheet where that is another than `here`.
std::string place_of(const RawCell& cell, const Source& here) {
  std::string place = cell.source.line(cell.line);
  if (!(cell.source == here))
    place += " of " + cell.source.shown();
  return place;
}

} // namespace

std::optional<Role> role_called(std::string_view text, const TableWords& words) {
  if (const auto role = words.role(text))
    return role;
  const auto answer = words.yes_or_no(text);
  return answer ? std::optional(*answer ? Role::treated : Role::control) : std::nullopt;
}

std::optional<std::string_view> mark_apart(const RawAnimal& a, const RawAnimal& b) {
  for (const std::string_view name : trial_marks) {
    const auto in_a = a.attributes.find(std::string(name));
    const auto in_b = b.attributes.find(std::string(name));
    if (in_a != a.attributes.end() && in_b != b.attributes.end() &&
        look_of(in_a->second.text) != look_of(in_b->second.text))
      return name;
  }
  return std::nullopt;
}

bool SameAnimal::say_one_thing(std::string_view name, const std::string& a,
                               const std::string& b) const {
  if (look_of(a) == look_of(b))
    return true;
  const TableWords& words = layout_.words();
  const auto same = [](const auto& left, const auto& right) { return left && left == right; };
  if (name == "role")
    return same(role_called(a, words), role_called(b, words));
  if (name == "host")
    return same(words.host(a), words.host(b));
  if (name == "worm")
    return canonical_worm(a) == canonical_worm(b);
  if (name == "class")
    return same(parse_drug_classes(a), parse_drug_classes(b));
  if (name.starts_with("date_")) {
    const auto left = written_date(a, words);
    const auto right = written_date(b, words);
    return left && right && same(in_order(*left, order_), in_order(*right, order_));
  }
  return same(parse_number(a), parse_number(b));
}

void SameAnimal::add(RawAnimal& own, const std::string& name, RawCell said) {
  if (trimmed(said.text).empty())
    return;
  const auto found = own.attributes.find(name);
  if (found == own.attributes.end()) {
    own.attributes.emplace(name, std::move(said));
    return;
  }
  RawCell& first = found->second;
  if (say_one_thing(name, first.text, said.text))
    return;
  if (name == "weight_kg") {
    ++weights_;
    return;
  }
  const TableWords& words = layout_.words();
  const bool earlier = names_a_treatment(first.text, words);
  const bool later = names_a_treatment(said.text, words);
  if (is_of_treatment(name) && !earlier && !later)
    return; // "none" and "nil"
  if (is_of_treatment(name) && earlier != later) {
    if (name == "drench" && ++drenched_ == 1)
      drench_example_ = fmt::format("{} for {}", in_quotes(later ? said.text : first.text),
                                    in_quotes(own.tag.text));
    if (later)
      first = std::move(said);
    return;
  }
  problems_.add(said.problem(fmt::format("{} for {}, and {} on {}", in_quotes(said.text),
                                         in_quotes(own.tag.text), in_quotes(first.text),
                                         place_of(first, said.source)),
                             fmt::format("the same {} in all rows of an animal", name)));
}

void SameAnimal::tell(const Source& source, ReadingLog& log) const {
  if (drenched_ > 0)
    log.tell(fmt::format("{}: a drench that is named at one time and none at the other is the "
                         "animal's, {} time{}: {}",
                         source.shown(), drenched_, drenched_ == 1 ? "" : "s", drench_example_));
  if (weights_ > 0)
    log.tell(fmt::format("{}: {} animal{} with two weights: that of the earlier sample counts",
                         source.shown(), weights_, weights_ == 1 ? "" : "s"));
}

} // namespace eggfall
