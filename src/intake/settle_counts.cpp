#include "intake/settle_counts.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/count_cell.hpp"
#include "intake/head_factor.hpp"
#include "intake/open_question.hpp"
#include "intake/some_eggs.hpp"
#include "intake/time_point.hpp"
#include "trial/field_words.hpp"
#include "trial/missing_factor.hpp"
#include "trial/trial_columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <set>
#include <tuple>
#include <utility>

namespace eggfall {
namespace {

using Says = CountCell::Says;

/// One cell of counts on its way.
struct SettledCount {
  RawAnimal* animal;
  const CountKey* key;
  RawCount* count;
  CountCell cell;
  std::optional<double> factor; ///< Of the cell itself, before means are turned into sums.
  bool settled = false;
  std::optional<double> eggs = {}; ///< Once settled; nothing: not sampled.
};

/// "lambs.csv, line 5 (103)"
std::string place(const SettledCount& each) {
  return fmt::format("{} ({})", each.count->cell.source.line(each.count->cell.line),
                     each.animal->tag.text);
}

std::string counted(std::size_t count, std::string_view thing) {
  return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

class CountSettler {
public:
  CountSettler(std::vector<RawAnimal>& animals, const std::vector<std::string>& around,
               const std::vector<RawCell>& notes, const Layout& layout, const ReadOptions& options,
               Problems& problems, ReadingLog& log)
      : around_(around), notes_(notes), layout_(layout), options_(options), problems_(problems),
        log_(log) {
    for (RawAnimal& animal : animals)
      for (auto& [key, count] : animal.counts)
        counts_.push_back({&animal, &key, &count, read_count_cell(count.cell.text, layout),
                           factor_of(animal, key)});
  }

  void settle() {
    refuse_some_eggs();
    refuse_what_is_no_count();
    take_factor_from_epg();
    refuse_without_factor();
    compare_with_heads();
    compare_with_notes();
    compare_with_epg();
    ask_for_words();
    refuse_units_at_odds();
    settle_unit();
    ask_for_means();
    for (SettledCount& each : counts_)
      settle_one(each);
    doubt_factor();
    sum_means();
    tell();
  }

private:
  std::optional<double> factor_of(const RawAnimal& animal, const CountKey& key) const {
    const std::string name = fmt::format("factor_{}", to_string(key.time));
    const std::string otherwise = fmt::format("factor_{}", to_string(key.time.occasion));
    for (const std::string& column :
         {fmt::format("{}_{}", name, key.repeat), name, otherwise, std::string("factor")})
      if (const auto found = animal.attributes.find(column); found != animal.attributes.end())
        if (const auto factor = parse_number(found->second.text); factor && *factor > 0)
          return factor;
    const auto& option =
        key.time.occasion == Occasion::before ? options_.factor_before : options_.factor_after;
    return option ? std::optional(option->value()) : std::nullopt;
  }

  /// What one egg stands for in a cell, which may be a mean of several counts.
  std::optional<double> step(const SettledCount& each) const {
    return each.factor ? std::optional(*each.factor / layout_.mean_of.value_or(1)) : std::nullopt;
  }

  static constexpr const char* least_it_can_be =
      "the least it can be (before treatment the least makes the fall look smaller than it was; "
      "after treatment the truth may be worse than what is shown)";

  /// "TNTC", "positive" and ">1000" are no zero, and whatever their owner answers: eggs that were
  /// seen and left out, or taken for none, would make a drench that failed look good.
  void refuse_some_eggs() {
    for (const SettledCount& each : counts_) {
      const bool answered =
          each.cell.says == Says::none_seen || each.cell.says == Says::not_sampled;
      if (each.cell.says == Says::nothing || each.cell.says == Says::number ||
          each.cell.says == Says::below ||
          !(says_some_eggs(each.count->cell.text) || (answered && least_of(each.count->cell.text))))
        continue;
      const std::string word = in_quotes(each.count->cell.text);
      const std::string said = each.cell.says == Says::none_seen     ? ", called none-seen,"
                               : each.cell.says == Says::not_sampled ? ", called not-sampled,"
                                                                     : "";
      problems_.add_once("cell " + word,
                         each.count->cell.problem(
                             fmt::format("{}{} which says that there were eggs and is no zero",
                                         word, said.empty() ? "," : said),
                             fmt::format("the number of eggs or EPG, or {}", least_it_can_be)));
    }
  }

  void refuse_what_is_no_count() {
    for (const SettledCount& each : counts_) {
      if (each.cell.says != Says::no_count || says_some_eggs(each.count->cell.text))
        continue;
      const std::string word = in_quotes(each.count->cell.text);
      const bool has_digit = each.count->cell.text.find_first_of("0123456789") != std::string::npos;
      Wording expected = Wording("a number of eggs or EPG, or a word that is known: ") +
                         Mention{Setting::cell, each.count->cell.text + "=none-seen"} + " or " +
                         Mention{Setting::cell, each.count->cell.text + "=not-sampled"} +
                         " says what it means";
      if (const auto least = least_of(each.count->cell.text))
        expected = fmt::format("the number that was counted, or {}, {}", *least, least_it_can_be);
      else if (has_digit)
        expected = "one number of eggs or EPG, such as 12, 350 or <50 (empty: not sampled)";
      problems_.add_once("cell " + word, each.count->cell.problem(word, std::move(expected)));
    }
    problems_.throw_if_any();
  }

  // EPG that stand beside eggs seen.

  /// EPG by one egg, of a row that has both; nothing for another, or for no egg.
  std::optional<double> epg_of_one_egg(const SettledCount& each) const {
    if (!each.count->epg_beside || each.cell.says != Says::number || each.cell.value == 0)
      return std::nullopt;
    const CountCell epg = read_count_cell(each.count->epg_beside->text, layout_);
    if (epg.says != Says::number)
      return std::nullopt;
    return epg.thousands.value_or(epg.value) / each.cell.value;
  }

  /// Where nothing says the factor, EPG beside eggs do: of the row with the most eggs, since EPG
  /// may be rounded.
  void take_factor_from_epg() {
    for (const Occasion occasion : all_occasions) {
      const SettledCount* most = nullptr;
      for (const SettledCount& each : counts_)
        if (each.key->time.occasion == occasion && !each.factor && epg_of_one_egg(each) &&
            (most == nullptr || each.cell.value > most->cell.value))
          most = &each;
      if (most == nullptr)
        continue;
      const std::string factor = fmt::format("{:.6g}", *epg_of_one_egg(*most));
      log_.tell(
          fmt::format("one egg seen {} treatment stands for {} EPG, by the EPG beside the eggs",
                      to_string(occasion), factor));
      for (SettledCount& each : counts_)
        if (each.key->time.occasion == occasion && !each.factor) {
          each.factor = parse_number(factor);
          each.animal->attributes[factor_name(*each.key)] =
              RawCell{factor, each.count->cell.source, each.count->cell.line, 0, {}};
        }
    }
  }

  /// Eggs, EPG and factor must agree in each row, or one of them is wrong.
  void compare_with_epg() const {
    constexpr double rounding = 0.02;
    for (const SettledCount& each : counts_) {
      if (!each.count->epg_beside || !each.factor)
        continue;
      const RawCell& beside = *each.count->epg_beside;
      const CountCell epg = read_count_cell(beside.text, layout_);
      if (each.cell.says == Says::nothing && epg.says == Says::number)
        ask_for_twin(each, "no number of eggs");
      if (each.cell.says != Says::number || epg.says != Says::number)
        continue;
      const double said = epg.thousands.value_or(epg.value);
      const double meant = each.cell.value * *each.factor;
      if (std::abs(said - meant) > 0.51 + rounding * meant)
        ask_for_twin(each, fmt::format("{} eggs seen, which are {:g} EPG at a factor of {:g}",
                                       each.count->cell.text, meant, *each.factor));
    }
  }

  [[noreturn]] static void ask_for_twin(const SettledCount& each, const std::string& beside) {
    const std::string time = to_string(each.key->time);
    const RawCell& epg = *each.count->epg_beside;
    std::vector<LayoutAnswer> answers;
    if (const auto eggs = parse_number(each.count->cell.text); eggs && *eggs > 0)
      if (const auto said = parse_number(epg.text); said && *said > 0)
        answers.push_back(answer(fmt::format("factor-{}", to_string(each.key->time.occasion)),
                                 fmt::format("{:.6g}", *said / *eggs),
                                 "if one egg stands for that"));
    answers.push_back(answer("column", fmt::format("eggs_{}={}", time, each.count->cell.head),
                             "read the eggs alone, and so at both times"));
    answers.push_back(answer("column", fmt::format("epg_{}={}", time, epg.head),
                             "read the EPG alone, and so at both times"));
    throw OpenQuestion(
        epg.problem(fmt::format("{} EPG beside {}", in_quotes(epg.text), beside), {}),
        std::move(answers));
  }

  /// What all whole counts are multiples of, as a hint to the factor; 1 if they are few.
  std::uint64_t common_step() const {
    constexpr std::size_t least = 4;
    std::uint64_t step = 0;
    std::size_t numbers = 0;
    for (const SettledCount& each : counts_) {
      if (each.cell.says != Says::number || each.cell.value == 0)
        continue;
      const double value = each.cell.thousands.value_or(each.cell.value);
      if (value != std::floor(value) || value > 1e9)
        return 1;
      step = std::gcd(step, static_cast<std::uint64_t>(value));
      ++numbers;
    }
    return numbers < least ? 1 : step;
  }

  void refuse_without_factor() {
    // Of all counts together: looked for once, since a table without factors has as many cells here
    // as it has counts.
    std::optional<std::uint64_t> step;
    for (const SettledCount& each : counts_) {
      if (each.factor || each.cell.says == Says::nothing || each.cell.says == Says::not_sampled)
        continue;
      if (!step)
        step = common_step();
      Wording hint;
      if (*step > 1)
        hint = fmt::format("; all counts are multiples of {}: ", *step) +
               Mention{Setting::factor, fmt::format("{}", *step)} +
               fmt::format(", if one egg seen stands for {} EPG", *step);
      problems_.add_once(
          fmt::format("factor {}", to_string(each.key->time.occasion)),
          each.count->cell.problem(
              std::string(count_without_factor),
              expected_factor(fmt::format("factor_{}", to_string(each.key->time.occasion)), hint)));
    }
    problems_.throw_if_any();
  }

  // A factor that stands in a head.

  /// A number that reads as the factor and is not the one that is read by, in the head of "Eggs
  /// before (x15)", would turn the eggs of one time into too many or too few.
  void compare_with_heads() {
    constexpr double rounding = 0.005;
    std::map<std::pair<SampleTime, std::string>, std::set<std::string>> heads_of_time;
    for (const SettledCount& each : counts_)
      heads_of_time[{each.key->time, each.key->worm}].insert(each.count->cell.head);
    std::set<std::pair<std::string, double>> compared;
    std::set<std::string> agreed;
    for (const SettledCount& each : counts_) {
      const std::string& head = each.count->cell.head;
      if (!each.factor || each.cell.says == Says::nothing ||
          !compared.emplace(head, *each.factor).second)
        continue;
      const auto said = factor_in_head(head);
      // A bare number tells repeats apart, or means what its owner says by naming the column.
      if (!said || (said->bare && (heads_of_time[{each.key->time, each.key->worm}].size() > 1 ||
                                   each.key->repeat > 0 || names_head(layout_, head))))
        continue;
      if (std::abs(said->value - *each.factor) > rounding * *each.factor)
        refuse_factor_of_head(each, *said);
      agreed.insert(head);
    }
    if (agreed.empty())
      return;
    constexpr std::size_t most_listed = 8;
    log_.tell(fmt::format(
        "the number in {} is taken for the factor, with which it agrees",
        quoted_list(std::vector<std::string>(agreed.begin(), agreed.end()), most_listed)));
  }

  /// @throws OpenQuestion; InputError where the factor stands in the table too.
  [[noreturn]] static void refuse_factor_of_head(const SettledCount& each, const HeadFactor& said) {
    const RawCell& cell = each.count->cell;
    const std::string occasion(to_string(each.key->time.occasion));
    Problem place{cell.source,
                  0,
                  cell.column,
                  cell.head,
                  fmt::format("{} in this head, which reads as what one egg stands for, and a "
                              "factor of {:g} {} treatment",
                              said.text, *each.factor, occasion),
                  {}};
    const bool in_table = std::ranges::any_of(each.animal->attributes, [&](const auto& attribute) {
      return attribute.first.starts_with("factor") && attribute.second.column > 0 &&
             parse_number(attribute.second.text) == each.factor;
    });
    if (in_table) {
      place.expected = "one factor in the head and in the column of factors; or a head without a "
                       "number that is none";
      throw InputError({place});
    }
    std::vector<LayoutAnswer> answers{answer(
        "factor-" + occasion, fmt::format("{:g}", said.value),
        fmt::format("if one egg seen {} treatment stands for {:g} EPG{}", occasion, said.value,
                    said.bare ? "" : "; if not, mend the head, which must not say so"))};
    if (said.bare)
      for (const CountUnit unit : {CountUnit::eggs, CountUnit::epg})
        if (each.count->unit.value_or(unit) == unit)
          answers.push_back(
              answer("column",
                     fmt::format("{}_{}={}", to_string(unit), to_string(each.key->time), cell.head),
                     "if the number means something else"));
    throw OpenQuestion(std::move(place), std::move(answers));
  }

  // A factor that stands in a title or a note.

  /// A title or a note that says what one egg stands for.
  struct SayingNote {
    const RawCell* note;
    std::vector<NoteFactor> factors;
    std::optional<Occasion> of_time; ///< If it speaks of one alone.
    std::string sheet;

    bool is_of(const std::string& of_sheet, Occasion occasion) const {
      return sheet == of_sheet && (!of_time || *of_time == occasion);
    }
    bool says(double factor) const {
      return std::ranges::any_of(
          factors, [&](const NoteFactor& each) { return are_alike(each.value, factor); });
    }
  };

  /// A factor that counts of one sheet and time are read by.
  struct UsedFactor {
    std::string sheet;
    Occasion occasion;
    double factor;
  };

  static bool are_alike(double a, double b) {
    constexpr double rounding = 0.005;
    return std::abs(a - b) <= rounding * b;
  }

  std::vector<SayingNote> saying_notes() const {
    std::vector<SayingNote> saying;
    for (const RawCell& note : notes_)
      if (std::vector<NoteFactor> factors = factors_in_note(note.text); !factors.empty())
        saying.push_back({&note, std::move(factors),
                          time_point(layout_.words().pieces_of(note.text), note.text).occasion,
                          note.source.shown()});
    return saying;
  }

  std::vector<UsedFactor> used_factors() const {
    std::set<std::tuple<std::string, Occasion, double>> used;
    for (const SettledCount& each : counts_)
      if (each.factor && each.cell.says != Says::nothing)
        used.emplace(each.count->cell.source.shown(), each.key->time.occasion, *each.factor);
    std::vector<UsedFactor> factors;
    for (const auto& [sheet, occasion, factor] : used)
      factors.push_back({sheet, occasion, factor});
    return factors;
  }

  /// What a title says of one egg, "factor 15", must be what the counts of its sheet are read by,
  /// or those at the time that it speaks of; and what they are read by must be said, if any title
  /// says one.
  void compare_with_notes() {
    const std::vector<SayingNote> saying = saying_notes();
    if (saying.empty())
      return;
    const std::vector<UsedFactor> used = used_factors();
    std::vector<std::string> agreed;
    for (const SayingNote& note : saying) {
      bool any = false;
      for (const UsedFactor& each : used) {
        if (!note.is_of(each.sheet, each.occasion))
          continue;
        any = true;
        const bool said = std::ranges::any_of(saying, [&](const SayingNote& other) {
          return other.is_of(each.sheet, each.occasion) && other.says(each.factor);
        });
        if (!said)
          doubt_note(note, note.factors.front(), each, used);
      }
      for (const NoteFactor& each : note.factors) {
        const auto is_here = [&](const UsedFactor& one) {
          return note.is_of(one.sheet, one.occasion);
        };
        const bool read_by = std::ranges::any_of(used, [&](const UsedFactor& one) {
          return is_here(one) && are_alike(each.value, one.factor);
        });
        if (any && !read_by)
          doubt_note(note, each, *std::ranges::find_if(used, is_here), used);
      }
      if (any)
        agreed.push_back(note.note->text);
    }
    constexpr std::size_t most_listed = 8;
    if (!agreed.empty())
      log_.add(fmt::format("the number in {} was compared with the factor",
                           quoted_list(agreed, most_listed)));
  }

  /// @throws OpenQuestion, but for a limit of detection, which is told.
  void doubt_note(const SayingNote& note, const NoteFactor& said, const UsedFactor& read_by,
                  const std::vector<UsedFactor>& used) {
    if (said.a_limit) {
      Wording line = fmt::format("{} says a limit of {}, which is often what one egg stands for, "
                                 "and counts are read by a factor of {:g}: is it right?",
                                 in_quotes(note.note->text), said.text, read_by.factor);
      if (limits_told_.insert(line.text()).second)
        log_.tell(std::move(line));
      return;
    }
    const std::string occasion(to_string(read_by.occasion));
    const bool of_both = std::ranges::all_of(all_occasions, [&](Occasion each) {
      return std::ranges::any_of(used, [&](const UsedFactor& one) {
        return note.is_of(one.sheet, each) && one.sheet == note.sheet && one.occasion == each;
      });
    });
    throw OpenQuestion(
        note.note->problem(
            fmt::format("{}, in which {} reads as what one egg stands for, and a factor of {:g} {} "
                        "treatment",
                        in_quotes(note.note->text), said.text, read_by.factor, occasion),
            {}),
        {answer(of_both ? std::string("factor") : "factor-" + occasion,
                fmt::format("{:g}", said.value),
                "if one egg seen stands for so many EPG; if not, or if a column of the table says "
                "another factor, mend the text, which must not say so")});
  }

  void ask_for_words() const {
    std::map<std::string, std::vector<const SettledCount*>> by_word;
    for (const SettledCount& each : counts_)
      if (each.cell.says == Says::two_readings)
        by_word[look_of(each.count->cell.text)].push_back(&each);
    if (by_word.empty())
      return;
    const auto& [word, cells] = *by_word.begin();
    const RawCell& first = cells.front()->count->cell;
    throw OpenQuestion(
        first.problem(fmt::format("{} in {} of counts, which stands for no egg seen in some "
                                  "laboratories and for no sample in others",
                                  in_quotes(first.text), counted(cells.size(), "cell")),
                      {}),
        {answer("cell", first.text + "=none-seen"), answer("cell", first.text + "=not-sampled")});
  }

  void refuse_units_at_odds() {
    for (const SettledCount& each : counts_)
      if (each.cell.unit && each.count->unit && *each.cell.unit != *each.count->unit)
        problems_.add(each.count->cell.problem(in_quotes(each.count->cell.text),
                                               *each.count->unit == CountUnit::epg
                                                   ? "EPG, as its column says"
                                                   : "eggs seen, as its column says"));
    problems_.throw_if_any();
  }

  // Eggs or EPG.

  /// Columns of one sheet that do not say are taken for one unit, before and after.
  void settle_unit() {
    std::vector<SettledCount*> open;
    for (SettledCount& each : counts_)
      if (!each.count->unit)
        open.push_back(&each);
    if (open.empty() || take_units_of_cells(open))
      return;
    const CountUnit unit = unit_of(open);
    for (SettledCount* each : open)
      each->count->unit = unit;
  }

  /// Where each number above zero says its unit ("6 eggs", "200 EPG"), each column has its own; one
  /// whose cells say both has none. False where not all say it.
  bool take_units_of_cells(const std::vector<SettledCount*>& open) {
    std::map<std::string, std::map<CountUnit, const SettledCount*>> said_under;
    for (const SettledCount* each : open) {
      if (each->cell.says != Says::number || each->cell.value == 0)
        continue;
      if (!each->cell.unit)
        return false;
      said_under[each->count->cell.head].emplace(*each->cell.unit, each);
    }
    std::set<CountUnit> units;
    for (const auto& [head, said] : said_under) {
      if (said.size() > 1) {
        const RawCell& cell = said.at(CountUnit::eggs)->count->cell;
        problems_.add(
            cell.problem(fmt::format("{} in a column with {}", in_quotes(cell.text),
                                     in_quotes(said.at(CountUnit::epg)->count->cell.text)),
                         "eggs seen or eggs per gram, the same in all cells of a column"));
      }
      units.insert(said.begin()->first);
    }
    problems_.throw_if_any();
    // One unit for all is told with the heads that it is taken for.
    if (units.size() < 2)
      return false;
    for (SettledCount* each : open) {
      const auto found = said_under.find(each->count->cell.head);
      // A column of no egg at all says the same in either unit.
      each->count->unit =
          found == said_under.end() ? CountUnit::eggs : found->second.begin()->first;
    }
    log_.tell(
        fmt::format("counts under {} are taken for eggs seen or for eggs per gram as the cells "
                    "of each column say",
                    heads_of(open)));
    return true;
  }

  static std::string heads_of(const std::vector<SettledCount*>& open) {
    std::vector<std::string> heads;
    for (const SettledCount* each : open)
      if (std::ranges::find(heads, each->count->cell.head) == heads.end())
        heads.push_back(each->count->cell.head);
    constexpr std::size_t most_listed = 8;
    return quoted_list(heads, most_listed);
  }

  CountUnit unit_of(const std::vector<SettledCount*>& open) {
    const auto told = [&](CountUnit unit, std::string_view why) {
      log_.tell(fmt::format("counts under {} are taken for {}: {}", heads_of(open),
                            unit == CountUnit::epg ? "eggs per gram" : "eggs seen", why));
      return unit;
    };
    if (layout_.counts)
      return told(*layout_.counts, "as said");
    std::set<CountUnit> in_cells;
    for (const SettledCount* each : open)
      if (each->cell.unit)
        in_cells.insert(*each->cell.unit);
    if (in_cells.size() == 1)
      return told(*in_cells.begin(), "cells say so");
    if (const auto said = unit_around())
      return told(CountUnit::epg, fmt::format("{} says so", in_quotes(*said)));
    if (std::ranges::any_of(open, [](const SettledCount* each) {
          return each->cell.says == Says::number && !each->cell.thousands &&
                 each->cell.value != std::floor(each->cell.value);
        }))
      return told(CountUnit::epg, "there are fractions among them");
    if (all_multiples(open))
      return told(CountUnit::epg, "all are multiples of the factor, which eggs seen would not be");
    // At a multiplication factor of 1 they are the same, and so are counts of no egg at all.
    if (std::ranges::all_of(open, [](const SettledCount* each) {
          return each->factor == 1.0 || each->cell.says == Says::none_seen ||
                 each->cell.says == Says::nothing || each->cell.says == Says::not_sampled ||
                 (each->cell.says == Says::number && each->cell.value == 0);
        }))
      return CountUnit::eggs;
    throw OpenQuestion(
        {open.front()->count->cell.source,
         0,
         open.front()->count->cell.column,
         open.front()->count->cell.head,
         fmt::format("counts under {} that may be eggs seen or eggs per gram", heads_of(open)),
         {}},
        {answer("counts", "epg", "eggs per gram"),
         answer("counts", "eggs", "eggs seen under the microscope")});
  }

  /// A title or a note that says eggs per gram, and nothing of eggs seen ("50 EPG an egg").
  std::optional<std::string> unit_around() const {
    for (const std::string& text : around_) {
      const std::vector<HeadPiece> pieces = layout_.words().pieces_of(text);
      if (have_word(pieces, HeadWord::epg) && !have_word(pieces, HeadWord::eggs))
        return text;
    }
    return std::nullopt;
  }

  /// Whether eggs seen would all be multiples of the factor by a luck of less than 1 in a million.
  static bool all_multiples(const std::vector<SettledCount*>& open) {
    constexpr double luck = 1e-6;
    double chance = 1;
    for (const SettledCount* each : open) {
      if (each->cell.says == Says::below && each->cell.value > 1)
        chance = 0;
      if (each->cell.says != Says::number || !each->factor)
        continue;
      const double value = each->cell.thousands.value_or(each->cell.value);
      if (value == 0)
        continue;
      if (!eggs_of_rounded(value, each->cell.decimals, *each->factor))
        return false;
      chance *= share_of_multiples(value, *each->factor);
    }
    return chance < luck;
  }

  /// Of the whole numbers near to `value`, the share that an EPG of this factor could be rounded
  /// to: one in 50 at a factor of 50, but all of them at one of 1.25.
  static double share_of_multiples(double value, double factor) {
    if (factor == std::floor(factor))
      return 1 / std::max(1.0, factor);
    const double reach = 10 * std::ceil(factor);
    double numbers = 0;
    double multiples = 0;
    for (double near = std::max(1.0, std::round(value - reach)); near <= value + reach; ++near) {
      ++numbers;
      multiples += eggs_of_rounded(near, 0, factor) ? 1 : 0;
    }
    return numbers > 0 ? multiples / numbers : 1;
  }

  // Means of several counts.

  bool is_whole(const SettledCount& each, double of_step) const {
    if (each.cell.says != Says::number)
      return true;
    if (*each.count->unit == CountUnit::eggs) {
      const double eggs = each.cell.value * *each.factor / of_step;
      return std::abs(eggs - std::round(eggs)) < 1e-6 || each.cell.thousands;
    }
    return eggs_of_rounded(each.cell.value, each.cell.decimals, of_step).has_value() ||
           (each.cell.thousands && eggs_of_rounded(*each.cell.thousands, 0, of_step));
  }

  /// Counts that need a fraction of an egg are told with the likely cause.
  void ask_for_means() const {
    constexpr unsigned most_likely = 4;
    const auto fits = [&](unsigned parts) {
      return std::ranges::all_of(counts_, [&](const SettledCount& each) {
        return !each.factor || is_whole(each, *step(each) / parts);
      });
    };
    const auto odd = std::ranges::find_if(counts_, [&](const SettledCount& each) {
      return each.factor && !is_whole(each, *step(each));
    });
    if (odd == counts_.end())
      return;
    for (unsigned parts = 2; parts <= most_likely; ++parts) {
      if (layout_.mean_of || !fits(parts))
        continue;
      throw OpenQuestion(
          odd->count->cell.problem(
              fmt::format(
                  "{}, which needs a fraction of an egg at a factor of {}; all counts would "
                  "be whole eggs as means of {} counts of each sample",
                  in_quotes(odd->count->cell.text), *odd->factor, parts),
              {}),
          {answer(fmt::format("factor-{}", to_string(odd->key->time.occasion)),
                  fmt::format("{:.6g}", *odd->factor / parts), "if one egg seen stands for that"),
           answer("mean-of", fmt::format("{}", parts), "if they are such means")});
    }
  }

  // One cell.

  static void settle_as(SettledCount& each, std::optional<double> eggs) {
    each.settled = true;
    each.eggs = eggs;
  }

  void settle_one(SettledCount& each) {
    switch (each.cell.says) {
    case Says::nothing:
      return;
    case Says::none_seen:
      remember_word(each);
      settle_as(each, 0);
      return;
    case Says::not_sampled:
      remember_word(each);
      settle_as(each, std::nullopt);
      return;
    case Says::below:
      settle_below(each);
      return;
    case Says::number:
      settle_number(each);
      return;
    default: // was told already
      return;
    }
  }

  /// Fewer than one egg is none.
  void settle_below(SettledCount& each) {
    const double one_egg = *each.count->unit == CountUnit::eggs ? 1 : *step(each);
    constexpr double rounding = 1.01;
    if (each.cell.value > one_egg * rounding)
      throw OpenQuestion(
          each.count->cell.problem(
              fmt::format(
                  "{} at a factor of {}, by which one egg seen is {:g} EPG, so that eggs may "
                  "have been seen",
                  in_quotes(each.count->cell.text), *each.factor, one_egg),
              {}),
          {answer("cell", each.count->cell.text + "=none-seen", "no egg was seen"),
           answer(fmt::format("factor-{}", to_string(each.key->time.occasion)),
                  fmt::format("{:g}", each.cell.value), "if one egg seen stands for that")});
    remember_word(each);
    settle_as(each, 0);
  }

  void remember_word(const SettledCount& each) {
    const std::string word = look_of(each.count->cell.text);
    words_[word].push_back(&each);
    said_.emplace(word, each.count->cell.text);
  }

  void settle_number(SettledCount& each) {
    const RawCell& cell = each.count->cell;
    const bool in_eggs = *each.count->unit == CountUnit::eggs;
    const auto eggs_in = [&](double value, int decimals) -> std::optional<double> {
      if (in_eggs) {
        const double eggs = value * layout_.mean_of.value_or(1);
        return std::abs(eggs - std::round(eggs)) < 1e-6 ? std::optional(std::round(eggs))
                                                        : std::nullopt;
      }
      return eggs_of_rounded(value, decimals, *step(each));
    };
    const auto plain = eggs_in(each.cell.value, each.cell.decimals);
    const auto thousands = each.cell.thousands ? eggs_in(*each.cell.thousands, 0) : std::nullopt;
    if (plain && thousands && *plain != *thousands) {
      problems_.add(
          cell.problem(in_quotes(cell.text), fmt::format("a number without a mark: {:g}, or {:g}?",
                                                         *each.cell.thousands, each.cell.value)));
      return;
    }
    if (!plain && !thousands) {
      refuse_fraction(each);
      return;
    }
    if (each.cell.marked && (thousands || !each.cell.thousands))
      thousands_.push_back(&each);
    if (!each.cell.remark.empty()) {
      // "50 Nematodirus" may be a part of the eggs, or none of them.
      if (known_worm(each.cell.remark) || not_a_roundworm(each.cell.remark)) {
        problems_.add(cell.problem(in_quotes(cell.text), "a number, with each kind of egg in a "
                                                         "column of its own"));
        return;
      }
      remarks_.push_back(&each);
    }
    settle_as(each, plain ? *plain : *thousands);
  }

  void refuse_fraction(const SettledCount& each) {
    const RawCell& cell = each.count->cell;
    if (*each.count->unit == CountUnit::eggs) {
      problems_.add(cell.problem(in_quotes(cell.text), "a whole number of eggs seen, 0 or more"));
      return;
    }
    const double factor = *step(each);
    const double below = std::floor(each.cell.value / factor);
    problems_.add(cell.problem(
        fmt::format("{} EPG", cell.text),
        fmt::format(
            "a whole multiple of the factor {:g}, such as {:g} or {:g} (is the factor right, "
            "and written with all its digits?)",
            factor, below * factor, (below + 1) * factor)));
  }

  /// The numbers as the counts table has them: eggs, or exact multiples of the factor.
  void sum_means() {
    problems_.throw_if_any();
    for (SettledCount& each : counts_) {
      RawCell& cell = each.count->cell;
      if (each.cell.says == Says::nothing || !each.settled)
        continue;
      if (!each.eggs) {
        cell.text.clear();
        continue;
      }
      each.count->unit = CountUnit::eggs;
      cell.text = fmt::format("{}", *each.eggs);
    }
    if (!layout_.mean_of)
      return;
    for (SettledCount& each : counts_)
      if (each.factor)
        each.animal->attributes[factor_name(*each.key)] = RawCell{
            fmt::format("{}", *step(each)), each.count->cell.source, each.count->cell.line, 0, {}};
  }

  static std::string factor_name(const CountKey& key) {
    return key.repeat > 0 ? fmt::format("factor_{}_{}", to_string(key.time), key.repeat)
                          : fmt::format("factor_{}", to_string(key.time));
  }

  // What was understood.

  static std::string places(const std::vector<const SettledCount*>& cells) {
    constexpr std::size_t most_listed = 4;
    std::string list;
    for (std::size_t i = 0; i < std::min(cells.size(), most_listed); ++i)
      list += (i == 0 ? "" : ", ") + place(*cells[i]);
    return cells.size() > most_listed
               ? fmt::format("{} and {} more", list, cells.size() - most_listed)
               : list;
  }

  /// A factor that is too small turns each egg into several, and makes any result too sure.
  void doubt_factor() {
    constexpr std::size_t least = 8;
    const std::uint64_t step = common_step();
    std::size_t not_zero = 0;
    for (const SettledCount& each : counts_) {
      if (*each.count->unit != CountUnit::epg && each.cell.says == Says::number)
        return;
      not_zero += each.cell.says == Says::number && each.cell.value > 0 ? 1 : 0;
    }
    for (const SettledCount& each : counts_)
      if (const auto one_egg = step > 1 ? this->step(each) : std::nullopt;
          one_egg && not_zero >= least && static_cast<double>(step) > 1.5 * *one_egg) {
        log_.tell(fmt::format("all EPG are multiples of {}, so that one egg may stand for that and "
                              "not for {:g}: is the factor right?",
                              step, *one_egg));
        return;
      }
  }

  void tell() {
    for (const auto& [word, cells] : words_) {
      const bool none = cells.front()->eggs.has_value();
      const bool memory = layout_.words().from_memory(said_.at(word));
      log_.tell(fmt::format("{} is taken for {}{} in {}: {}", in_quotes(said_.at(word)),
                            none ? "no egg seen" : "not sampled",
                            memory ? " (from memory: check it)" : "", counted(cells.size(), "cell"),
                            places(cells)));
    }
    if (!thousands_.empty())
      log_.tell(fmt::format("marks for thousands in {}: {}", counted(thousands_.size(), "cell"),
                            places(thousands_)));
    for (const SettledCount* each : remarks_)
      log_.tell(fmt::format("left out behind a count: {} on {}", in_quotes(each->cell.remark),
                            place(*each)));
    if (layout_.mean_of)
      log_.tell(
          fmt::format("counts are means of {0} counts of a sample: {0} times as many eggs were "
                      "seen, and one stands for as much less",
                      *layout_.mean_of));
  }

  const std::vector<std::string>& around_;
  const std::vector<RawCell>& notes_;
  const Layout& layout_;
  const ReadOptions& options_;
  Problems& problems_;
  ReadingLog& log_;
  std::vector<SettledCount> counts_;
  std::map<std::string, std::vector<const SettledCount*>> words_;
  std::map<std::string, std::string> said_; ///< As the first cell writes it.
  std::vector<const SettledCount*> thousands_;
  std::vector<const SettledCount*> remarks_;
  std::set<std::string> limits_told_;
};

} // namespace

void settle_counts(std::vector<RawAnimal>& animals, const std::vector<std::string>& around,
                   const Layout& layout, const ReadOptions& options, Problems& problems,
                   ReadingLog& log, const std::vector<RawCell>& notes) {
  CountSettler(animals, around, notes, layout, options, problems, log).settle();
}

} // namespace eggfall
