#include "eggfall/judgement/cut_offs.hpp"

#include "base/enum_names.hpp"
#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "formats/toml_reader.hpp"
#include "trial/drug_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <iterator>
#include <utility>

namespace eggfall {
namespace {

constexpr std::string_view cut_offs_schema = "eggfall.cut-offs/1";

constexpr Names<Rule, 3> rule_names{{
    {Rule::two_one_sided, "two-one-sided"},
    {Rule::reduction_and_lower_limit, "reduction-and-lower-limit"},
    {Rule::reduction_alone, "reduction-alone"},
}};

constexpr Names<Provenance, 4> provenance_names{{
    {Provenance::published, "published"},
    {Provenance::memory, "memory"},
    {Provenance::practice, "practice"},
    {Provenance::user, "user"},
}};

constexpr std::array interval_methods{Method::bootstrap_percentile, Method::bootstrap_bca,
                                      Method::log_ratio_1992,       Method::paired_log_ratio,
                                      Method::egg_totals_exact,     Method::egg_totals_jeffreys};

/// In percent. A test that asks for less than half is none of a drench, and a share such as 0.95 in
/// place of 95 would make a drench that does nothing look good.
constexpr ValueRange thresholds_percent{50, 100};

bool classes_fit(const Scope& scope, const std::vector<DrugClass>& classes) {
  if (scope.classes.empty())
    return true;
  return !classes.empty() && std::ranges::all_of(classes, [&](DrugClass drug_class) {
    return std::ranges::find(scope.classes, drug_class) != scope.classes.end();
  });
}

bool host_fits(const Scope& scope, const std::string& host) {
  return scope.hosts.empty() || std::ranges::find(scope.hosts, host) != scope.hosts.end();
}

bool worm_fits(const Scope& scope, const std::string& worm) {
  return scope.worm.empty() || scope.worm == worm;
}

/// The rows, from 0, that take all groups of a row after them; empty if some group is left to it.
/// Hosts are taken one by one, since a group has one; no host stands for all of them, and so do no
/// classes and no worm.
std::vector<std::size_t> rows_that_cover(const std::vector<CutOff>& rows, const Scope& later) {
  std::vector<std::string> hosts = later.hosts;
  if (hosts.empty())
    hosts.emplace_back();
  std::vector<std::size_t> covering;
  for (const std::string& host : hosts) {
    const auto row = std::ranges::find_if(rows, [&](const CutOff& earlier) {
      return host_fits(earlier.scope, host) && classes_fit(earlier.scope, later.classes) &&
             worm_fits(earlier.scope, later.worm);
    });
    if (row == rows.end())
      return {};
    covering.push_back(static_cast<std::size_t>(row - rows.begin()));
  }
  std::ranges::sort(covering);
  covering.erase(std::unique(covering.begin(), covering.end()), covering.end());
  return covering;
}

/// Turns TOML into cut-offs. In a user's file, `published` are those whose names and titles are
/// taken, and rows may not claim a provenance; for the published ones themselves it is nullptr.
class CutOffReader {
public:
  explicit CutOffReader(const CutOffs* published) : published_(published) {}

  CutOffs read(const Section& root) const {
    root.allow_only({"schema", "criteria", "sampling_window"});
    CutOffs cut_offs;
    root.each("criteria", [&](const Section& section) {
      Criteria criteria = read_criteria(section);
      if (std::ranges::find(cut_offs.criteria, criteria.name, &Criteria::name) !=
          cut_offs.criteria.end())
        section.refuse("the name " + in_quotes(criteria.name) + " again", "each name once");
      cut_offs.criteria.push_back(std::move(criteria));
    });
    root.each("sampling_window",
              [&](const Section& section) { cut_offs.windows.push_back(read_window(section)); });
    if (cut_offs.criteria.empty())
      root.refuse("no criteria", "at least one section headed [[criteria]]");
    return cut_offs;
  }

private:
  Citation citation(const Section& section, const std::optional<Citation>& inherited) const {
    if (inherited && !section.has("source"))
      return *inherited;
    Citation result;
    result.source = section.needed_text("source");
    if (published_ != nullptr) {
      if (section.has("provenance"))
        section.refuse("a key provenance", "none; a file of your own is always shown as yours");
      result.provenance = Provenance::user;
    } else
      result.provenance = section.choice("provenance", provenance_names);
    return result;
  }

  static DrugClass drug_class(const Section& section, std::string_view word) {
    // A rule for a substance alone is none for its class.
    const auto parsed = substances_in(word).empty() ? parse_drug_class(word) : std::nullopt;
    if (!parsed)
      section.refuse_key("drug_class", in_quotes(word), "BZ, LV, ML, AD, SI or PYR");
    return *parsed;
  }

  static Scope scope(const Section& section) {
    Scope result;
    for (const std::string& host : section.texts("host"))
      result.hosts.push_back(canonical_host(host));
    for (const std::string& word : section.texts("drug_class"))
      result.classes.push_back(drug_class(section, word));
    const std::string worm = section.text("worm").value_or("any");
    if (worm != "any")
      result.worm = canonical_worm(worm);
    return result;
  }

  /// A name or title under which no reader takes the user's rule for a published one.
  std::string own_words(const Section& section, std::string_view key) const {
    std::string words = section.needed_text(key);
    if (published_ != nullptr)
      for (const Criteria& taken : published_->criteria)
        for (const std::string& theirs : {taken.name, taken.title})
          if (lower_case(words) == lower_case(theirs))
            section.refuse_key(
                key, in_quotes(words),
                fmt::format("a {} of your own, since that is a published rule's", key));
    return words;
  }

  Criteria read_criteria(const Section& section) const {
    section.allow_only({"name", "title", "rule", "interval", "level_percent", "source",
                        "provenance", "cut_off", "minimum"});
    Criteria criteria;
    criteria.name = own_words(section, "name");
    criteria.title = section.has("title") ? own_words(section, "title") : criteria.name;
    criteria.rule = section.choice("rule", rule_names);
    criteria.citation = citation(section, std::nullopt);
    if (section.has("interval")) {
      const std::string name = section.needed_text("interval");
      std::string list;
      for (const Method method : interval_methods) {
        if (to_string(method) == name)
          criteria.method = method;
        list += (list.empty() ? "" : ", ") + std::string(to_string(method));
      }
      if (!criteria.method)
        section.refuse("the interval " + in_quotes(name), "one of " + list);
    }
    if (criteria.rule == Rule::reduction_alone) {
      for (const std::string_view key : {"interval", "level_percent"})
        if (section.has(key))
          section.refuse(fmt::format("a key {}", key), "none under the rule reduction-alone");
    } else {
      const auto level = section.number("level_percent", Criteria::levels_percent.least,
                                        Criteria::levels_percent.most);
      if (!level)
        section.refuse("no key level_percent", "level_percent = 90, for example");
      criteria.level = *level / 100;
    }
    section.each("cut_off", [&](const Section& row) {
      CutOff cut_off = read_cut_off(row, criteria);
      refuse_if_covered(row, criteria.cut_offs, cut_off.scope);
      criteria.cut_offs.push_back(std::move(cut_off));
    });
    section.each("minimum", [&](const Section& row) {
      criteria.minima.push_back(read_minimum(row, criteria));
    });
    if (criteria.cut_offs.empty())
      section.refuse("no cut-off", "at least one section headed [[criteria.cut_off]]");
    return criteria;
  }

  /// A row that is never used would judge nothing, though its owner trusts that it does.
  static void refuse_if_covered(const Section& row, const std::vector<CutOff>& before,
                                const Scope& scope) {
    const std::vector<std::size_t> covering = rows_that_cover(before, scope);
    if (covering.empty())
      return;
    std::vector<std::string> numbers;
    for (const std::size_t earlier : covering)
      numbers.push_back(fmt::format("{}", earlier + 1));
    const std::string_view rows = covering.size() == 1 ? "row" : "rows";
    row.refuse(
        fmt::format("row {}, which can never be used: {} {} {} all its groups", before.size() + 1,
                    rows, in_words(numbers), covering.size() == 1 ? "fits" : "fit"),
        fmt::format("it before {} {}, since the first row that fits a group is used, or left "
                    "out",
                    rows, in_words(numbers)));
  }

  /// As a proportion; nothing without the key.
  static std::optional<double> threshold(const Section& row, std::string_view key) {
    if (row.is_number(key))
      if (const double found = row.numbers(key).front(); found > 0 && found <= 1)
        row.refuse_key(key, fmt::format("{}", found),
                       fmt::format("a percentage above 1, such as 95, from {} to {}: for a share, "
                                   "write 100 times as much",
                                   thresholds_percent.least, thresholds_percent.most));
    const auto percent = row.number(key, thresholds_percent.least, thresholds_percent.most);
    return percent ? std::optional(*percent / 100) : std::nullopt;
  }

  /// A limit of an interval stays below 100% even where no egg is left, so that a threshold of 100
  /// would be met by no drench.
  static void refuse_beyond_limits(const Section& row, std::string_view key,
                                   std::optional<double> threshold, Rule rule) {
    if (threshold && *threshold >= 1)
      row.refuse_key(key, "100",
                     fmt::format("below 100 under the rule {}, such as 99.9: the limits of a "
                                 "perfect drench stay below 100",
                                 to_string(rule)));
  }

  CutOff read_cut_off(const Section& row, const Criteria& criteria) const {
    row.allow_only({"host", "drug_class", "worm", "expected_percent", "lower_percent", "source",
                    "provenance"});
    CutOff cut_off;
    cut_off.scope = scope(row);
    cut_off.citation = citation(row, criteria.citation);
    const auto expected = threshold(row, "expected_percent");
    if (!expected)
      row.refuse("no key expected_percent", "expected_percent = 95, for example");
    cut_off.expected = *expected;
    cut_off.lower = threshold(row, "lower_percent");
    const bool needs_lower = criteria.rule != Rule::reduction_alone;
    if (needs_lower != cut_off.lower.has_value())
      row.refuse(needs_lower ? "no key lower_percent" : "a key lower_percent",
                 fmt::format("{} under the rule {}",
                             needs_lower ? "a lower threshold" : "expected_percent alone",
                             to_string(criteria.rule)));
    if (criteria.rule == Rule::two_one_sided)
      refuse_beyond_limits(row, "expected_percent", expected, criteria.rule);
    refuse_beyond_limits(row, "lower_percent", cut_off.lower, criteria.rule);
    if (cut_off.lower && *cut_off.lower > cut_off.expected)
      row.refuse(fmt::format("a lower threshold of {:g} above the expected {:g}",
                             100 * *cut_off.lower, 100 * cut_off.expected),
                 "the lower one no higher");
    return cut_off;
  }

  Minimum read_minimum(const Section& row, const Criteria& criteria) const {
    row.allow_only({"host", "drug_class", "worm", "animals", "better_animals", "mean_epg",
                    "eggs_counted_per_animal", "source", "provenance"});
    constexpr double most = 1e6;
    Minimum minimum;
    minimum.scope = scope(row);
    minimum.citation = citation(row, criteria.citation);
    minimum.animals = row.number("animals", 1, most);
    minimum.better_animals = row.number("better_animals", 1, most);
    minimum.mean_epg = row.number("mean_epg", 0, most);
    minimum.eggs_counted_per_animal = row.number("eggs_counted_per_animal", 0, most);
    return minimum;
  }

  SamplingWindow read_window(const Section& section) const {
    section.allow_only(
        {"host", "drug_class", "drench_contains", "first_day", "last_day", "source", "provenance"});
    SamplingWindow window;
    for (const std::string& host : section.texts("host"))
      window.hosts.push_back(canonical_host(host));
    window.drug_class = drug_class(section, section.needed_text("drug_class"));
    window.drench_contains = lower_case(section.text("drench_contains").value_or(""));
    window.first_day = section.day("first_day");
    window.last_day = section.day("last_day");
    window.citation = citation(section, std::nullopt);
    if (window.first_day > window.last_day)
      section.refuse(fmt::format("day {} to day {}", window.first_day, window.last_day),
                     "the first day no later than the last");
    return window;
  }

  const CutOffs* published_;
};

CutOffs read(std::string_view text, const std::string& source, const CutOffs* published) {
  return read_toml(text, source, cut_offs_schema,
                   [&](const Section& root) { return CutOffReader(published).read(root); });
}

bool fits(const Scope& scope, const Group& group) {
  return host_fits(scope, group.host) && classes_fit(scope, group.classes) &&
         worm_fits(scope, group.worm);
}

} // namespace

std::string_view to_string(Rule rule) {
  return name_of(rule_names, rule, "a rule");
}

std::optional<Rule> parse_rule(std::string_view name) {
  return value_named(rule_names, name);
}

std::optional<Provenance> parse_provenance(std::string_view name) {
  return value_named(provenance_names, name);
}

std::string_view to_string(Provenance provenance) {
  return name_of(provenance_names, provenance, "a provenance");
}

CutOffs published_cut_offs() {
  return read(published_cut_offs_toml(), "published cut-offs", nullptr);
}

CutOffs read_cut_offs(std::string_view toml, const std::string& source) {
  const CutOffs published = published_cut_offs();
  return read(toml, source, &published);
}

CutOffs before_published(CutOffs own) {
  CutOffs published = published_cut_offs();
  std::ranges::move(published.criteria, std::back_inserter(own.criteria));
  std::ranges::move(published.windows, std::back_inserter(own.windows));
  return own;
}

CutOffChoice choose_cut_off(const Criteria& criteria, const Group& group) {
  for (const CutOff& cut_off : criteria.cut_offs)
    if (fits(cut_off.scope, group))
      return {&cut_off, {}};
  const bool host_known = std::ranges::any_of(
      criteria.cut_offs, [&](const CutOff& row) { return host_fits(row.scope, group.host); });
  if (!host_known && group.host.empty())
    return {nullptr,
            "its cut-offs differ by host, and the host is not given (column host, or "
            "the setting host)",
            "host"};
  if (!host_known)
    return {nullptr, fmt::format("it has no cut-off for {}", group.host)};
  const bool class_known = std::ranges::any_of(criteria.cut_offs, [&](const CutOff& row) {
    return host_fits(row.scope, group.host) && classes_fit(row.scope, group.classes);
  });
  if (!class_known && group.classes.empty())
    return {nullptr,
            fmt::format("its cut-offs for {} differ by drug class, and the class is not "
                        "given (column class)",
                        group.host),
            "class"};
  if (!class_known)
    return {nullptr, fmt::format("it has no cut-off for {} and class {}", group.host,
                                 to_string(group.classes))};
  if (group.worm.empty())
    return {nullptr,
            fmt::format("its cut-offs for {} differ by worm, and the worm is not given "
                        "(column worm)",
                        group.host),
            "worm"};
  return {nullptr,
          fmt::format("it has no cut-off for {}, class {} and {}", group.host,
                      group.classes.empty() ? "unknown" : to_string(group.classes), group.worm)};
}

std::vector<const Minimum*> minima_for(const Criteria& criteria, const Group& group) {
  std::vector<const Minimum*> found;
  for (const Minimum& minimum : criteria.minima)
    if (fits(minimum.scope, group))
      found.push_back(&minimum);
  return found;
}

const SamplingWindow* window_for(const CutOffs& cut_offs, const Group& group) {
  if (group.classes.size() != 1)
    return nullptr;
  const std::string drench = lower_case(group.drench + " " + group.name);
  for (const SamplingWindow& window : cut_offs.windows)
    if (window.drug_class == group.classes.front() &&
        (window.hosts.empty() ||
         std::ranges::find(window.hosts, group.host) != window.hosts.end()) &&
        drench.find(window.drench_contains) != std::string::npos)
      return &window;
  return nullptr;
}

} // namespace eggfall
