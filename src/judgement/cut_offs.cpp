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

/// Turns TOML into cut-offs; `fixed` is the provenance of a user's file, in which
/// the rows may not claim another.
class CutOffReader {
public:
  explicit CutOffReader(std::optional<Provenance> fixed) : fixed_(fixed) {}

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
    if (fixed_) {
      if (section.has("provenance"))
        section.refuse("a key provenance", "none; a file of your own is always shown as yours");
      result.provenance = *fixed_;
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

  Criteria read_criteria(const Section& section) const {
    section.allow_only({"name", "title", "rule", "interval", "level_percent", "source",
                        "provenance", "cut_off", "minimum"});
    Criteria criteria;
    criteria.name = section.needed_text("name");
    criteria.title = section.text("title").value_or(criteria.name);
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
      criteria.cut_offs.push_back(read_cut_off(row, criteria));
    });
    section.each("minimum", [&](const Section& row) {
      criteria.minima.push_back(read_minimum(row, criteria));
    });
    if (criteria.cut_offs.empty())
      section.refuse("no cut-off", "at least one section headed [[criteria.cut_off]]");
    return criteria;
  }

  CutOff read_cut_off(const Section& row, const Criteria& criteria) const {
    row.allow_only({"host", "drug_class", "worm", "expected_percent", "lower_percent", "source",
                    "provenance"});
    CutOff cut_off;
    cut_off.scope = scope(row);
    cut_off.citation = citation(row, criteria.citation);
    const auto expected = row.percent("expected_percent");
    if (!expected)
      row.refuse("no key expected_percent", "expected_percent = 95, for example");
    cut_off.expected = *expected;
    cut_off.lower = row.percent("lower_percent");
    const bool needs_lower = criteria.rule != Rule::reduction_alone;
    if (needs_lower != cut_off.lower.has_value())
      row.refuse(needs_lower ? "no key lower_percent" : "a key lower_percent",
                 fmt::format("{} under the rule {}",
                             needs_lower ? "a lower threshold" : "expected_percent alone",
                             to_string(criteria.rule)));
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

  std::optional<Provenance> fixed_;
};

CutOffs read(std::string_view text, const std::string& source, std::optional<Provenance> fixed) {
  return read_toml(text, source, cut_offs_schema,
                   [&](const Section& root) { return CutOffReader(fixed).read(root); });
}

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
  return read(published_cut_offs_toml(), "published cut-offs", std::nullopt);
}

CutOffs read_cut_offs(std::string_view toml, const std::string& source) {
  CutOffs cut_offs = read(toml, source, Provenance::user);
  for (const Criteria& published : published_cut_offs().criteria)
    if (std::ranges::find(cut_offs.criteria, published.name, &Criteria::name) !=
        cut_offs.criteria.end())
      throw InputError({Problem{source,
                                0,
                                0,
                                {},
                                "criteria named " + in_quotes(published.name),
                                "a name of your own, since that is a published one"}});
  return cut_offs;
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
