#include "intake/join_sheets.hpp"

#include "base/date.hpp"
#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "intake/group_names.hpp"
#include "intake/open_question.hpp"
#include "intake/same_animal.hpp"
#include "intake/time_point.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <chrono>
#include <iterator>
#include <map>
#include <set>
#include <utility>

namespace eggfall {
namespace {

bool has_both(const NamedSheet& each) {
  return each.sheet.occasions.size() == 2;
}

void set_occasion(SheetAnimals& sheet, Occasion occasion) {
  for (RawAnimal& animal : sheet.animals) {
    // A visit's day, which a head told, is not lost with what is said of the sheet.
    move_counts(animal, [&](const SampleTime& time) {
      return SampleTime{occasion, occasion == Occasion::after ? time.day : 0};
    });
    // A date, or a factor, of the one time was kept as of before.
    for (const std::string_view what : {"date_", "factor_"}) {
      auto moved = animal.attributes.extract(fmt::format("{}before", what));
      if (moved && occasion == Occasion::after) {
        moved.key() = fmt::format("{}after", what);
        animal.attributes.erase(moved.key());
        animal.attributes.insert(std::move(moved));
      } else if (moved) {
        animal.attributes.insert(std::move(moved));
      }
    }
  }
  sheet.occasions = {occasion};
  sheet.time_is_open = false;
}

/// The time that a name or titles say, if they say one.
std::optional<Occasion> occasion_in(const std::vector<std::string>& texts, const Layout& layout) {
  std::optional<Occasion> found;
  for (const std::string& text : texts) {
    const TimePoint time = time_point(layout.words().pieces_of(text), text);
    std::optional<Occasion> said = occasion_said(time);
    if (!said && time.place && *time.place <= 2)
      said = time.place == 1 ? Occasion::before : Occasion::after;
    if (!said)
      continue;
    if (found && found != said)
      return std::nullopt;
    found = said;
  }
  return found;
}

/// A title with a date in it.
struct TitleDate {
  std::string title;
  std::string text; ///< The date as written.
};

/// Whether a text says nothing but times, dates and counts: "Sampled on", but not "Report of".
bool speaks_of_samples_alone(std::string_view text, const TableWords& words) {
  constexpr std::array known{HeadWord::before, HeadWord::after,   HeadWord::first, HeadWord::second,
                             HeadWord::date,   HeadWord::day,     HeadWord::week,  HeadWord::hour,
                             HeadWord::months, HeadWord::count,   HeadWord::eggs,  HeadWord::epg,
                             HeadWord::filler, HeadWord::occasion};
  return std::ranges::all_of(words.pieces_of(text), [&](const HeadPiece& piece) {
    const std::string word = lower_case(piece.text);
    return piece.number || word == "t" || word == "on" ||
           (piece.means && std::ranges::find(known, *piece.means) != known.end());
  });
}

void set_date(SheetAnimals& sheet, const TitleDate& title, const std::string& date) {
  const Occasion occasion =
      sheet.time_is_open ? Occasion::before : *sheet.occasions.begin(); // as other dates are kept
  for (RawAnimal& animal : sheet.animals)
    animal.attributes.emplace(fmt::format("date_{}", to_string(occasion)),
                              RawCell{date, sheet.source, animal.tag.line, 0, title.title});
}

void set_day(SheetAnimals& sheet, int day) {
  for (RawAnimal& animal : sheet.animals)
    move_counts(animal, [&](const SampleTime& time) { return SampleTime{time.occasion, day}; });
}

bool has_day(const SheetAnimals& sheet) {
  return std::ranges::any_of(sheet.animals, [](const RawAnimal& animal) {
    return std::ranges::any_of(animal.counts,
                               [](const auto& count) { return count.first.time.day > 0; });
  });
}

bool tells_treatment(const SheetAnimals& sheet) {
  return std::ranges::any_of(sheet.animals, [](const RawAnimal& animal) {
    return animal.attributes.contains("date_treated");
  });
}

std::optional<std::chrono::sys_days> first_day(const SheetAnimals& sheet, const Layout& layout,
                                               std::optional<DateOrder> order) {
  std::optional<std::chrono::sys_days> first;
  for (const RawAnimal& animal : sheet.animals) {
    const auto found = animal.attributes.find("date_before");
    const auto date = found == animal.attributes.end()
                          ? std::nullopt
                          : written_date(found->second.text, layout.words());
    if (!date)
      continue;
    const auto day = in_order(*date, order);
    if (day && (!first || std::chrono::sys_days(*day) < *first))
      first = std::chrono::sys_days(*day);
  }
  return first;
}

/// Whether a word of a name may end before `position`: "lambs|_pre", "lambs|1", "lambs|Pre".
bool may_end_before(std::string_view name, std::size_t position) {
  const auto is_in_word = [](char c) {
    return static_cast<unsigned char>(c) >= 0x80 ||
           std::isalnum(static_cast<unsigned char>(c)) != 0;
  };
  const auto is = [&](int (*kind)(int), std::size_t i) {
    return kind(static_cast<unsigned char>(name[i])) != 0;
  };
  if (position == 0 || position == name.size() || !is_in_word(name[position - 1]) ||
      !is_in_word(name[position]))
    return true;
  return is(std::isdigit, position - 1) != is(std::isdigit, position) ||
         (is(std::isupper, position) && !is(std::isupper, position - 1));
}

/// "lambs" of "lambs pre" and "lambs post"; the first name if they share too little.
std::string common_name(const std::string& a, const std::string& b) {
  if (a == b)
    return a;
  constexpr std::size_t least = 3;
  auto end = static_cast<std::size_t>(std::ranges::mismatch(a, b).in1 - a.begin());
  while (!may_end_before(a, end) || !may_end_before(b, end))
    --end;
  std::string_view common = std::string_view(a).substr(0, end);
  while (!common.empty() &&
         std::string_view(" -_.(,").find(common.back()) != std::string_view::npos)
    common.remove_suffix(1);
  return common.size() < least ? a : std::string(common);
}

class SheetJoiner {
public:
  SheetJoiner(const Layout& layout, std::optional<DateOrder> order, Problems& problems,
              ReadingLog& log)
      : layout_(layout), order_(order), problems_(problems), log_(log),
        same_(layout, order, problems) {}

  std::vector<JoinedAnimals> join(std::vector<NamedSheet> sheets) {
    std::vector<JoinedAnimals> joined;
    std::vector<NamedSheet> halves;
    groups_of_sheets(sheets);
    for (NamedSheet& each : sheets)
      if (has_both(each))
        joined.push_back({each.name, each.sheet.source, std::move(each.sheet.animals),
                          std::move(each.sheet.around), std::move(each.sheet.notes)});
      else
        halves.push_back(std::move(each));
    if (halves.empty())
      return joined;
    if (halves.size() == 1) {
      // Half of a trial: the strict reader says what is missing.
      if (!layout_.occasions.empty())
        set_occasion(halves[0].sheet, layout_.occasions[0]);
      else if (halves[0].sheet.time_is_open)
        if (const auto said = said_by_names(halves[0]))
          set_occasion(halves[0].sheet, *said);
      joined.push_back({halves[0].name, halves[0].sheet.source, std::move(halves[0].sheet.animals),
                        std::move(halves[0].sheet.around), std::move(halves[0].sheet.notes)});
      return joined;
    }
    if (halves.size() > 2)
      throw OpenQuestion({halves[2].sheet.source,
                          0,
                          0,
                          {},
                          fmt::format("{} sheets with counts of one time each, {}", halves.size(),
                                      shown_list(halves)),
                          {}},
                         {answer("sheet", halves[0].table + "," + halves[1].table,
                                 "the two of one trial, or others of them")});
    take_dates_of_titles(halves);
    settle_times(halves);
    const auto before = std::ranges::find_if(halves, [](const NamedSheet& each) {
      return each.sheet.occasions.contains(Occasion::before);
    });
    NamedSheet& first = *before;
    NamedSheet& second = before == halves.begin() ? halves[1] : halves[0];
    keep_day_of_names(first, second);
    joined.push_back(join_two(first, second));
    return joined;
  }

private:
  /// Sheets of one workbook that were asked for together, of both times and without groups, are a
  /// group each.
  void groups_of_sheets(std::vector<NamedSheet>& sheets) const {
    const auto is_group = [&](const NamedSheet& each) {
      return has_both(each) && !each.sheet.has_groups && each.sheet.source.is_sheet() &&
             each.sheet.source.name == sheets.front().sheet.source.name;
    };
    if (sheets.size() < 2 || !std::ranges::all_of(sheets, is_group))
      return;
    std::vector<std::string> names;
    NamedSheet whole = std::move(sheets.front());
    for (NamedSheet& each : sheets) {
      SheetAnimals& sheet = &each == &sheets.front() ? whole.sheet : each.sheet;
      names.push_back(&each == &sheets.front() ? whole.table : each.table);
      for (RawAnimal& animal : sheet.animals)
        animal.group = names.back();
      if (&sheet != &whole.sheet) {
        std::ranges::move(sheet.animals, std::back_inserter(whole.sheet.animals));
        std::ranges::move(sheet.around, std::back_inserter(whole.sheet.around));
        std::ranges::move(sheet.notes, std::back_inserter(whole.sheet.notes));
      }
    }
    whole.sheet.has_groups = true;
    sheets.clear();
    sheets.push_back(std::move(whole));
    constexpr std::size_t most_listed = 12;
    log_.tell(fmt::format("{}: each sheet is a group: {}", sheets.front().sheet.source.name,
                          quoted_list(names, most_listed)));
  }

  static std::string shown_list(const std::vector<NamedSheet>& sheets) {
    std::vector<std::string> names;
    for (const NamedSheet& each : sheets)
      names.push_back(each.table);
    return quoted_list(names, 12);
  }

  // The day of a sheet's samples, where its name or a title has it.

  /// A sheet's name and titles, but for those of the other sheet too.
  static std::vector<std::string> own_texts(const NamedSheet& each, const NamedSheet& other) {
    std::vector<std::string> texts{each.table};
    std::ranges::copy_if(each.sheet.around, std::back_inserter(texts), [&](const auto& text) {
      return std::ranges::find(other.sheet.around, text) == other.sheet.around.end();
    });
    return texts;
  }

  /// A head's date without a year is the sheet's, and goes before those of titles.
  std::optional<TitleDate> date_of_titles(const NamedSheet& each, const NamedSheet& other) {
    if (each.sheet.tells_dates || each.sheet.yearless || has_day(each.sheet))
      return std::nullopt;
    for (const std::string& text : own_texts(each, other)) {
      std::string_view date = date_within(text, layout_.words());
      if (date.empty())
        date = yearless_within(text, layout_.words());
      if (date.empty())
        continue;
      const auto start = static_cast<std::size_t>(date.data() - text.data());
      const std::string rest = text.substr(0, start) + ' ' + text.substr(start + date.size());
      if (speaks_of_samples_alone(rest, layout_.words()))
        return TitleDate{text, std::string(date)};
      if (written_date(date, layout_.words()))
        log_.tell(fmt::format("{}: the date in {} is not taken for the day of its samples (a "
                              "column of dates would tell it)",
                              each.sheet.source.shown(), in_quotes(text)));
    }
    return std::nullopt;
  }

  /// "Sampled 13/5/2031" above a table of one time.
  void take_dates_of_titles(std::vector<NamedSheet>& halves) {
    const std::array found{date_of_titles(halves[0], halves[1]),
                           date_of_titles(halves[1], halves[0])};
    DateOrders orders;
    std::array<std::optional<WrittenDate>, 2> dates;
    for (std::size_t i = 0; i < 2; ++i) {
      if (!found[i])
        continue;
      dates[i] = written_date(found[i]->text, layout_.words());
      if (dates[i])
        orders.add(*dates[i], found[i]->text, halves[i].sheet.source.shown());
      else
        keep_yearless(halves[i], *found[i]);
    }
    const std::optional<DateOrder> order = layout_.dates ? layout_.dates : orders.agreed();
    if (!order && orders.undecided() != nullptr)
      throw OpenQuestion({halves[0].sheet.source,
                          0,
                          0,
                          {},
                          "dates in titles of which none tells day from month, such as " +
                              in_quotes(orders.undecided()->text),
                          {}},
                         {answer("dates", "day-first"), answer("dates", "month-first")});
    std::array<std::string, 2> days;
    for (std::size_t i = 0; i < 2; ++i)
      if (dates[i])
        if (const auto day = in_order(*dates[i], order))
          days[i] = iso_date(*day);
    for (std::size_t i = 0; i < 2; ++i) {
      if (days[i].empty() || days[0] == days[1])
        continue;
      set_date(halves[i].sheet, *found[i], days[i]);
      log_.tell(fmt::format("{}: {} is taken for the day of its samples ({})",
                            halves[i].sheet.source.shown(), in_quotes(found[i]->title), days[i]));
    }
  }

  void keep_yearless(NamedSheet& each, const TitleDate& title) const {
    TimePoint time;
    time.text = title.text;
    time.yearless = yearless_date(title.text, layout_.words());
    each.sheet.yearless = std::move(time);
  }

  std::set<double> days_in(const std::vector<std::string>& texts) const {
    std::set<double> days;
    for (const std::string& text : texts)
      if (const auto day = time_point(layout_.words().pieces_of(text), text).day)
        days.insert(*day);
    return days;
  }

  /// What the name says of the day, or else the titles; but for what the other sheet says too, as
  /// "lot 2d before" and "lot 2d after" do.
  TimePoint day_of_names(const NamedSheet& each, const NamedSheet& other, Occasion occasion) {
    TimePoint found;
    found.text = each.table;
    const std::vector<std::string> texts = own_texts(each, other);
    const std::set<double> of_both = days_in(own_texts(other, each));
    for (const std::string& text : texts) {
      const TimePoint time = time_point(layout_.words().pieces_of(text), text);
      if (!time.day || of_both.contains(*time.day) ||
          (occasion == Occasion::after && *time.day <= 0))
        continue;
      const bool is_name = &text == &texts.front();
      if (!is_name && !speaks_of_samples_alone(text, layout_.words())) {
        if (!found.day && occasion == Occasion::after)
          log_.tell(fmt::format("{}: {} is not taken for the day of its samples",
                                each.sheet.source.shown(), in_quotes(text)));
        continue;
      }
      if (found.day && found.day != time.day && occasion == Occasion::after)
        throw InputError({Problem{each.sheet.source,
                                  0,
                                  0,
                                  {},
                                  fmt::format("{} and {}", in_quotes(found.text), in_quotes(text)),
                                  "one day of the samples of this sheet, in its name or a title"}});
      if (!found.day) {
        found = time;
        found.text = text;
      }
    }
    constexpr double day_that_starts_a_count = 1;
    if (!found.day || (*found.day > day_that_starts_a_count && occasion == Occasion::before))
      found.occasion = occasion;
    else
      found.occasion.reset();
    if (each.sheet.yearless)
      found.yearless = each.sheet.yearless->yearless;
    return found;
  }

  /// Or else a fall from "Day 0" to "Day 3" would pass for one of a usual test.
  void keep_day_of_names(const NamedSheet& first, NamedSheet& second) {
    const bool dated = second.sheet.tells_dates ||
                       std::ranges::any_of(second.sheet.animals, [](const RawAnimal& animal) {
                         return animal.attributes.contains("date_after");
                       });
    if (dated || has_day(second.sheet))
      return;
    const std::vector<PlacedTime> times{{day_of_names(first, second, Occasion::before), 0, 0},
                                        {day_of_names(second, first, Occasion::after), 0, 0}};
    std::vector<std::optional<SampleTime>> occasions{SampleTime{Occasion::before, 0},
                                                     SampleTime{Occasion::after, 0}};
    const auto refuse = [&](std::string found, std::string expected) {
      throw InputError(
          {Problem{second.sheet.source, 0, 0, {}, std::move(found), std::move(expected)}});
    };
    if (time_of_unsaid_unit(times, occasions))
      refuse(in_quotes(times[1].time.text) + ", and nothing says whether it is of days or of weeks",
             "a name of the sheet or file that says so, such as Day 3 or Week 3");
    const std::vector<int> apart = days_apart_without_year(times, occasions, layout_.dates);
    const bool matters = tells_treatment(first.sheet) || tells_treatment(second.sheet) ||
                         !std::ranges::all_of(apart, is_usual_time_apart);
    if (!apart.empty() && matters && !times[1].time.day)
      refuse(fmt::format("dates without a year, {} days apart", apart.front()),
             "the year too (such as 3/5/2031), from which the days are counted");
    take_one_day_for_a_visit(times, occasions);
    if (occasions[1]->day == 0)
      return;
    set_day(second.sheet, occasions[1]->day);
    log_.tell(fmt::format("{}: counts of day {} after treatment ({})", second.sheet.source.shown(),
                          occasions[1]->day, in_quotes(times[1].time.text)));
  }

  std::optional<Occasion> said_by_names(const NamedSheet& each) const {
    if (const auto said = occasion_in({each.table}, layout_))
      return said;
    return occasion_in(each.sheet.around, layout_);
  }

  void settle_times(std::vector<NamedSheet>& halves) {
    const auto tell = [&](const NamedSheet& each, std::string_view why) {
      log_.tell(fmt::format("{}: counts {} treatment ({})", each.sheet.source.shown(),
                            to_string(*each.sheet.occasions.begin()), why));
    };
    if (layout_.occasions.size() >= halves.size()) {
      for (std::size_t i = 0; i < halves.size(); ++i)
        set_occasion(halves[i].sheet, layout_.occasions[i]);
    } else {
      settle_by_days(halves, tell);
      settle_by_names(halves, tell);
      settle_the_other(halves, tell);
    }
    const bool open = halves[0].sheet.time_is_open || halves[1].sheet.time_is_open;
    if (open || halves[0].sheet.occasions == halves[1].sheet.occasions)
      ask_for_occasions(halves);
  }

  [[noreturn]] static void ask_for_occasions(const std::vector<NamedSheet>& halves) {
    throw OpenQuestion(
        {halves[1].sheet.source,
         0,
         0,
         {},
         fmt::format("two sheets of counts, {}, and nothing that tells which of them is before "
                     "treatment and which after",
                     shown_list(halves)),
         {}},
        {answer("occasions", "before,after", "in the order given"),
         answer("occasions", "after,before")});
  }

  /// Unless names say that it is the other way round.
  template <typename Tell> void settle_by_days(std::vector<NamedSheet>& halves, const Tell& tell) {
    if (!halves[0].sheet.time_is_open || !halves[1].sheet.time_is_open)
      return;
    const auto a = first_day(halves[0].sheet, layout_, order_);
    const auto b = first_day(halves[1].sheet, layout_, order_);
    if (!a || !b || *a == *b)
      return;
    const std::array times{*a < *b ? Occasion::before : Occasion::after,
                           *a < *b ? Occasion::after : Occasion::before};
    const std::array said{said_by_names(halves[0]), said_by_names(halves[1])};
    if (said[0] != said[1] && (said[0] == times[1] || said[1] == times[0]))
      ask_for_occasions(halves);
    for (std::size_t i = 0; i < 2; ++i) {
      set_occasion(halves[i].sheet, times[i]);
      tell(halves[i], "by its dates");
    }
  }

  /// A title of both sheets that says one time, such as "Drench check", is the trial's.
  template <typename Tell> void settle_by_names(std::vector<NamedSheet>& halves, const Tell& tell) {
    const std::array said{said_by_names(halves[0]), said_by_names(halves[1])};
    if (said[0] == said[1])
      return;
    for (std::size_t i = 0; i < 2; ++i)
      if (halves[i].sheet.time_is_open && said[i]) {
        set_occasion(halves[i].sheet, *said[i]);
        tell(halves[i], "its name or a title says so");
      }
  }

  template <typename Tell>
  static void settle_the_other(std::vector<NamedSheet>& halves, const Tell& tell) {
    for (std::size_t i = 0; i < 2; ++i) {
      SheetAnimals& open = halves[i].sheet;
      const SheetAnimals& other = halves[1 - i].sheet;
      if (!open.time_is_open || other.time_is_open)
        continue;
      set_occasion(open,
                   other.occasions.contains(Occasion::before) ? Occasion::after : Occasion::before);
      tell(halves[i], "as the other sheet is not");
    }
  }

  /// @param group_here of the first animal here; empty where groups do not count.
  [[noreturn]] static void refuse_strangers(const NamedSheet& first, const NamedSheet& second,
                                            const RawAnimal& there, const std::string& here,
                                            const std::string& group_here) {
    const bool by_group = !group_here.empty();
    const auto of_group = [&](const std::string& group) {
      return by_group ? " of " + in_quotes(group) : std::string();
    };
    throw InputError(
        {Problem{second.sheet.source,
                 0,
                 0,
                 {},
                 fmt::format("no animal that is in {} too (here {}{}, there {}{})",
                             first.sheet.source.shown(), in_quotes(here), of_group(group_here),
                             in_quotes(there.tag.text), of_group(there.group)),
                 by_group ? "the same names of animals and of their groups before and after"
                          : "the same names of animals before and after"}});
  }

  /// Two rows of one name, each without its fellow, under groups that differ: one animal that
  /// changed its group, or was entered under a wrong one. As two animals it would be in no count
  /// of both times, and a drench could lose the eggs that it left.
  void refuse_other_groups(const std::vector<const RawAnimal*>& left_here,
                           const std::vector<RawAnimal>& left_there) {
    for (const auto& [own, other] : fellows(left_here, left_there, false))
      if (!mark_apart(*own, *other)) // told already
        problems_.add(other->tag.problem(
            fmt::format("{} of {}, which is of {} on {} of {}", in_quotes(other->tag.text),
                        in_quotes(other->group), in_quotes(own->group),
                        own->tag.source.line(own->tag.line), own->tag.source.shown()),
            "the same group in all rows of an animal; of two animals, names that differ"));
  }

  /// The same of two rows whose farms, trials or years differ.
  void refuse_other_trials(const std::vector<const RawAnimal*>& left_here,
                           const std::vector<RawAnimal>& left_there, bool by_group) {
    for (const auto& [own, other] : fellows(left_here, left_there, by_group))
      if (const auto mark = mark_apart(*own, *other)) {
        const RawCell& here = other->attributes.at(std::string(*mark));
        const RawCell& there = own->attributes.at(std::string(*mark));
        problems_.add(here.problem(
            fmt::format("{} for {}, and {} on {} of {}", in_quotes(here.text),
                        in_quotes(other->tag.text), in_quotes(there.text),
                        there.source.line(there.line), there.source.shown()),
            fmt::format("the same {} in all rows of an animal; of two animals, names that differ",
                        *mark)));
      }
  }

  /// Those of both sheets that have one name, which no other that is left has.
  static std::vector<std::pair<const RawAnimal*, const RawAnimal*>>
  fellows(const std::vector<const RawAnimal*>& left_here, const std::vector<RawAnimal>& left_there,
          bool by_group) {
    const auto name_of = [&](const RawAnimal& animal) {
      return std::pair{by_group ? look_of(animal.group) : std::string(),
                       loose_name(animal.tag.text)};
    };
    std::map<std::pair<std::string, std::string>, std::vector<const RawAnimal*>> here;
    std::map<std::pair<std::string, std::string>, std::size_t> there;
    for (const RawAnimal* animal : left_here)
      here[name_of(*animal)].push_back(animal);
    for (const RawAnimal& animal : left_there)
      ++there[name_of(animal)];
    std::vector<std::pair<const RawAnimal*, const RawAnimal*>> found;
    for (const RawAnimal& animal : left_there) {
      const auto own = here.find(name_of(animal));
      if (!animal.tag.text.empty() && own != here.end() && own->second.size() == 1 &&
          there[name_of(animal)] == 1)
        found.emplace_back(own->second.front(), &animal);
    }
    return found;
  }

  /// Of an animal of the second sheet that may be any of several in the first.
  void refuse_several(const JoinedAnimals& joined, const std::vector<std::size_t>& places,
                      const RawAnimal& animal, const Source& source) {
    const RawAnimal& a = joined.animals[places[0]];
    const RawAnimal& b = joined.animals[places[1]];
    std::string why =
        fmt::format("it is on {} and on {}", source.line(a.tag.line), source.line(b.tag.line));
    if (const auto mark = mark_apart(a, b))
      why = fmt::format("animals of several {}s have it: give the {} here too", *mark, *mark);
    else if (look_of(a.group) != look_of(b.group))
      why = "several groups have it: give the group here too";
    problems_.add(animal.tag.problem(
        in_quotes(animal.tag.text),
        fmt::format("a name that one animal alone has in {} ({})", source.shown(), why)));
  }

  /// A name without what clerks leave out: capitals, zeros at the start of a number, and blanks and
  /// hyphens, but for those between two numbers ("1-12" is not 112).
  static std::string loose_name(const std::string& tag) {
    constexpr std::string_view digits = "0123456789";
    const std::string look = look_of(tag);
    std::string out;
    for (std::size_t i = 0; i < look.size(); ++i) {
      const char c = look[i];
      const bool digit = digits.find(c) != std::string_view::npos;
      const std::size_t next = look.find_first_not_of(" -", i);
      const bool between_numbers =
          !out.empty() && digits.find(out.back()) != std::string_view::npos &&
          next != std::string::npos && digits.find(look[next]) != std::string_view::npos;
      if ((c == ' ' || c == '-') && !between_numbers)
        continue;
      const bool in_number = !out.empty() && out.back() >= '0' && out.back() <= '9';
      if (digit && in_number && out.back() == '0' &&
          (out.size() == 1 || !(out[out.size() - 2] >= '0' && out[out.size() - 2] <= '9')))
        out.pop_back();
      out += c;
    }
    return out;
  }

  /// Of animals of the second sheet that the first has not: the one name there that differs by
  /// loose_name() alone, if there is just one.
  std::map<std::pair<std::string, std::string>, std::string>
  loosely_named(const NamedSheet& first, const NamedSheet& second, bool by_group) {
    const auto group_of = [&](const RawAnimal& animal) {
      return by_group ? look_of(animal.group) : std::string();
    };
    std::set<std::pair<std::string, std::string>> exact;
    std::map<std::pair<std::string, std::string>, std::vector<std::string>> here;
    std::map<std::pair<std::string, std::string>, std::size_t> there;
    for (const RawAnimal& animal : first.sheet.animals)
      exact.emplace(group_of(animal), animal.tag.text);
    for (const RawAnimal& animal : first.sheet.animals)
      here[{group_of(animal), loose_name(animal.tag.text)}].push_back(animal.tag.text);
    for (const RawAnimal& animal : second.sheet.animals)
      ++there[{group_of(animal), loose_name(animal.tag.text)}];
    std::map<std::pair<std::string, std::string>, std::string> names;
    std::string example;
    for (const RawAnimal& animal : second.sheet.animals) {
      const std::pair loose{group_of(animal), loose_name(animal.tag.text)};
      const auto found = here.find(loose);
      if (exact.contains({loose.first, animal.tag.text}) || found == here.end() ||
          found->second.size() != 1 || there[loose] != 1)
        continue;
      names.emplace(std::pair{loose.first, animal.tag.text}, found->second.front());
      if (example.empty())
        example =
            fmt::format("{} for {}", in_quotes(animal.tag.text), in_quotes(found->second.front()));
    }
    if (!names.empty())
      log_.tell(fmt::format("{}: {} animals are found by names that differ in capitals, blanks, "
                            "hyphens or leading zeros alone: {}",
                            second.sheet.source.shown(), names.size(), example));
    return names;
  }

  /// Animals of one name, by what marks_in() says of each.
  using PlacesByMarks = std::map<std::string, std::vector<std::size_t>>;

  static std::string marks_in(const RawAnimal& animal) {
    std::string marks;
    for (const std::string_view name : trial_marks) {
      const auto found = animal.attributes.find(std::string(name));
      marks += (found != animal.attributes.end() ? look_of(found->second.text) : "") + '\n';
    }
    return marks;
  }

  /// Those that say the same of their trial, or else those that may be of the same.
  static std::vector<std::size_t>
  of_its_trial(const PlacesByMarks& named, const JoinedAnimals& joined, const RawAnimal& animal) {
    if (const auto same = named.find(marks_in(animal)); same != named.end())
      return same->second;
    std::vector<std::size_t> found;
    for (const auto& [marks, places] : named)
      if (!mark_apart(joined.animals[places.front()], animal))
        found.insert(found.end(), places.begin(), places.end());
    return found;
  }

  JoinedAnimals join_two(NamedSheet& first, NamedSheet& second) {
    for (const NamedSheet* each : {&first, &second})
      if (!each->sheet.has_tags)
        throw OpenQuestion(
            {each->sheet.source,
             0,
             0,
             {},
             "no column that names animals (rows of two sheets are never paired by their order)",
             {}},
            {answer("column", "animal=THEIRS", "the head of the column that names them")});
    const bool by_group = first.sheet.has_groups && second.sheet.has_groups;
    std::map<std::pair<std::string, std::string>, PlacesByMarks> index_of;
    const auto key = [&](const RawAnimal& animal) {
      return std::pair{by_group ? look_of(animal.group) : std::string(), animal.tag.text};
    };
    const std::map<std::pair<std::string, std::string>, std::string> other_spelling =
        loosely_named(first, second, by_group);
    JoinedAnimals joined{common_name(first.name, second.name), first.sheet.source,
                         std::move(first.sheet.animals), std::move(first.sheet.around),
                         std::move(first.sheet.notes)};
    for (std::size_t i = 0; i < joined.animals.size(); ++i)
      index_of[key(joined.animals[i])][marks_in(joined.animals[i])].push_back(i);
    const std::string group_here =
        by_group && !second.sheet.animals.empty() ? second.sheet.animals.front().group : "";
    std::size_t matched = 0;
    std::vector<std::string> alone;
    std::vector<RawAnimal> left_there; // before they are moved
    for (RawAnimal& animal : second.sheet.animals) {
      auto found = index_of.find(key(animal));
      if (const auto spelt = other_spelling.find(key(animal));
          found == index_of.end() && spelt != other_spelling.end())
        found = index_of.find({spelt->first.first, spelt->second});
      std::vector<std::size_t> places;
      if (found != index_of.end())
        places = of_its_trial(found->second, joined, animal);
      if (places.empty()) {
        alone.push_back(animal.tag.text);
        left_there.push_back(animal);
        // Without a group it can be compared with none.
        if (by_group || !first.sheet.has_groups)
          joined.animals.push_back(std::move(animal));
        continue;
      }
      if (places.size() > 1) {
        refuse_several(joined, places, animal, first.sheet.source);
        continue;
      }
      RawAnimal& own = joined.animals[places.front()];
      matched_.insert(places.front());
      const bool again = std::ranges::any_of(
          animal.counts, [&](const auto& count) { return own.counts.contains(count.first); });
      if (again) {
        problems_.add(animal.tag.problem(fmt::format("{} again", in_quotes(animal.tag.text)),
                                         "each animal once in a sheet of one time"));
        continue;
      }
      for (auto& [name, cell] : animal.attributes)
        same_.add(own, name, std::move(cell));
      if (!first.sheet.has_groups && second.sheet.has_groups)
        own.group = animal.group;
      own.counts.merge(animal.counts);
      ++matched;
    }
    std::vector<const RawAnimal*> left_here;
    std::vector<std::string> first_alone;
    for (const auto& [named, by_marks] : index_of)
      for (const auto& [marks, places] : by_marks)
        for (const std::size_t each : places)
          if (!matched_.contains(each)) {
            left_here.push_back(&joined.animals[each]);
            first_alone.push_back(named.second);
          }
    refuse_other_trials(left_here, left_there, by_group);
    if (by_group && matched > 0)
      refuse_other_groups(left_here, left_there);
    problems_.throw_if_any();
    if (matched == 0)
      refuse_strangers(first, second, joined.animals.empty() ? RawAnimal() : joined.animals.front(),
                       alone.empty() ? std::string() : alone.front(), group_here);
    const std::size_t before = joined.animals.size();
    if (!first.sheet.has_groups && second.sheet.has_groups)
      std::erase_if(joined.animals,
                    [](const RawAnimal& animal) { return animal.group == only_group; });
    const std::size_t without_group = before - joined.animals.size();
    joined.around.insert(joined.around.end(), second.sheet.around.begin(),
                         second.sheet.around.end());
    joined.notes.insert(joined.notes.end(), second.sheet.notes.begin(), second.sheet.notes.end());
    constexpr std::size_t most_listed = 6;
    std::string line =
        fmt::format("{} and {}: joined by the names of {} animals", first.sheet.source.shown(),
                    second.sheet.source.shown(), matched);
    for (const auto& [names, which] :
         {std::pair{&first_alone, "first"}, std::pair{&alone, "second"}})
      if (!names->empty())
        line += fmt::format("; in the {} alone: {}", which, quoted_list(*names, most_listed));
    if (without_group > 0 || (!alone.empty() && first.sheet.has_groups && !by_group))
      line += " (those without a group are left out)";
    log_.tell(std::move(line));
    same_.tell(joined.source, log_);
    return joined;
  }

  const Layout& layout_;
  std::optional<DateOrder> order_;
  Problems& problems_;
  ReadingLog& log_;
  SameAnimal same_;
  std::set<std::size_t> matched_; ///< Animals of the first sheet that the second has too.
};

} // namespace

std::vector<JoinedAnimals> joined_sheets(std::vector<NamedSheet> sheets, const Layout& layout,
                                         std::optional<DateOrder> order, Problems& problems,
                                         ReadingLog& log) {
  return SheetJoiner(layout, order, problems, log).join(std::move(sheets));
}

} // namespace eggfall
