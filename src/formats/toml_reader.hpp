#pragma once

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>
#define TOML_EXCEPTIONS 1
#define TOML_MAX_NESTED_VALUES 16
#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace eggfall {

/// The line, from 1, of the first key of more than `most` parts (a.b.c has three); nothing if there
/// is none. Texts and comments are passed over; what is no TOML may be read in any way.
std::optional<std::size_t> line_of_long_key(std::string_view toml, std::size_t most);

inline std::string_view kind(const toml::node& node) {
  switch (node.type()) {
  case toml::node_type::table:
    return "a table";
  case toml::node_type::array:
    return "an array";
  case toml::node_type::string:
    return "a text";
  case toml::node_type::integer:
  case toml::node_type::floating_point:
    return "a number";
  case toml::node_type::boolean:
    return "true or false";
  default:
    return "a date or time";
  }
}

/// One TOML table with the checks that its keys need.
class Section {
public:
  Section(const toml::table& table, std::string where, const std::string& source)
      : table_(table), where_(std::move(where)), source_(source) {}

  [[noreturn]] void refuse(const toml::node& place, std::string_view key, std::string found,
                           std::string expected) const {
    const toml::source_position begin = place.source().begin;
    throw InputError({Problem{source_, begin.line, begin.column, std::string(key), std::move(found),
                              std::move(expected)}});
  }
  [[noreturn]] void refuse(std::string found, std::string expected) const {
    refuse(table_, where_, std::move(found), std::move(expected));
  }

  /// Of the value of a key that is there.
  [[noreturn]] void refuse_key(std::string_view key, std::string found,
                               std::string expected) const {
    refuse(*table_.get(key), key, std::move(found), std::move(expected));
  }

  void allow_only(const std::vector<std::string_view>& keys) const {
    for (const auto& [key, node] : table_)
      if (std::ranges::find(keys, key.str()) == keys.end()) {
        std::string list;
        for (const std::string_view known : keys)
          list += (list.empty() ? "" : ", ") + std::string(known);
        refuse(node, where_, "the unknown key " + in_quotes(key.str()), "one of " + list);
      }
  }

  bool has(std::string_view key) const { return table_.contains(key); }

  std::optional<std::string> text(std::string_view key) const {
    const toml::node* const node = table_.get(key);
    if (node == nullptr)
      return std::nullopt;
    auto value = node->value_exact<std::string>();
    if (value)
      *value = normalised(*value);
    if (!value || value->empty())
      refuse(*node, key, value ? "an empty text" : std::string(kind(*node)), "a text in quotes");
    return value;
  }
  std::string needed_text(std::string_view key) const {
    const auto value = text(key);
    if (!value)
      refuse(fmt::format("no key {}", key), fmt::format("{} = \"...\"", key));
    return *value;
  }

  std::optional<double> number(std::string_view key, double least, double most) const {
    const toml::node* const node = table_.get(key);
    if (node == nullptr)
      return std::nullopt;
    const auto value = node->is_number() ? node->value<double>() : std::nullopt;
    if (!value)
      refuse(*node, key, std::string(kind(*node)), "a number");
    if (!(*value >= least && *value <= most))
      refuse(*node, key, fmt::format("{}", *value), fmt::format("{} to {}", least, most));
    return value;
  }
  /// One number or an array of numbers; empty without the key.
  std::vector<double> numbers(std::string_view key) const {
    const toml::node* const node = table_.get(key);
    if (node == nullptr)
      return {};
    std::vector<double> values;
    const auto take = [&](const toml::node& item) {
      const auto value = item.is_number() ? item.value<double>() : std::nullopt;
      if (!value)
        refuse(item, key, std::string(kind(item)), "a number");
      values.push_back(*value);
    };
    if (const toml::array* const array = node->as_array())
      for (const toml::node& item : *array)
        take(item);
    else
      take(*node);
    if (values.empty())
      refuse(*node, key, "an empty array", "a number, or an array of numbers");
    return values;
  }
  std::optional<double> percent(std::string_view key) const {
    const auto value = number(key, 0, 100);
    return value ? std::optional(*value / 100) : std::nullopt;
  }
  int day(std::string_view key) const {
    const auto value = number(key, 0, 365);
    if (!value || *value != std::floor(*value))
      refuse(value ? fmt::format("{} of {}", key, *value) : fmt::format("no key {}", key),
             fmt::format("{} = a whole number of days", key));
    return static_cast<int>(*value);
  }

  /// One text or an array of texts; "any" gives an empty list.
  std::vector<std::string> texts(std::string_view key) const {
    const toml::node* const node = table_.get(key);
    if (node == nullptr)
      return {};
    if (node->is_string()) {
      const std::string value = *text(key);
      return value == "any" ? std::vector<std::string>{} : std::vector{value};
    }
    const toml::array* const array = node->as_array();
    std::vector<std::string> values;
    if (array != nullptr)
      for (const toml::node& item : *array) {
        auto value = item.value_exact<std::string>();
        if (value)
          *value = normalised(*value);
        if (!value || value->empty())
          refuse(item, key, std::string(kind(item)), "a text in quotes");
        if (*value == "any")
          refuse(item, key, "\"any\" in an array", "it alone, or names");
        values.push_back(std::move(*value));
      }
    if (values.empty())
      refuse(*node, key, array != nullptr ? "an empty array" : std::string(kind(*node)),
             "a text, or an array of texts");
    return values;
  }

  template <typename Enum, std::size_t N>
  Enum choice(std::string_view key,
              const std::array<std::pair<Enum, std::string_view>, N>& names) const {
    const std::string value = needed_text(key);
    std::string list;
    for (const auto& [item, name] : names) {
      if (name == value)
        return item;
      list += (list.empty() ? "" : ", ") + std::string(name);
    }
    refuse(*table_.get(key), key, in_quotes(value), "one of " + list);
  }

  bool is_number(std::string_view key) const {
    const toml::node* const node = table_.get(key);
    return node != nullptr && node->is_number();
  }

  /// `use(name, text)` of each text in the table of this key, whose names are the user's own.
  template <typename F> void each_text(std::string_view key, F&& use) const {
    const toml::node* const node = table_.get(key);
    if (node == nullptr)
      return;
    const toml::table* const table = node->as_table();
    if (table == nullptr)
      refuse(*node, key, std::string(kind(*node)), fmt::format("a section headed [{}]", key));
    const Section section(*table, std::string(key), source_);
    for (const auto& [name, value] : *table)
      use(normalised(name.str()), section.needed_text(name.str()));
  }

  template <typename F> void each(std::string_view key, F&& use) const {
    const toml::node* const node = table_.get(key);
    if (node == nullptr)
      return;
    const toml::array* const array = node->as_array();
    if (array == nullptr || !array->is_homogeneous(toml::node_type::table))
      refuse(*node, key, std::string(kind(*node)), fmt::format("sections headed [[{}]]", key));
    for (const toml::node& item : *array)
      use(Section(*item.as_table(), std::string(key), source_));
  }

private:
  const toml::table& table_;
  std::string where_;
  const std::string& source_;
};

/// `use(root)` of a TOML text with the key schema = `schema`.
/// @throws InputError, with line and column, for what is no TOML, another schema, more than 1 MiB,
///   or a key of more than 16 parts; and what `use` throws.
template <typename F>
auto read_toml(std::string_view text, const std::string& source, std::string_view schema, F&& use) {
  constexpr std::size_t largest = 1U << 20U;
  if (text.size() > largest)
    throw InputError({Problem{source,
                              0,
                              0,
                              {},
                              fmt::format("{} bytes", text.size()),
                              fmt::format("a file of at most {} bytes", largest)}});
  // The library makes a table of each part, and takes tables within tables apart by recursion.
  constexpr std::size_t most_parts = 16;
  if (const auto line = line_of_long_key(text, most_parts))
    throw InputError({Problem{source,
                              *line,
                              0,
                              {},
                              fmt::format("a key of more than {} parts", most_parts),
                              "keys of one part or two"}});
  const toml::table table = [&] {
    try {
      return toml::parse(text, source);
    } catch (const toml::parse_error& error) {
      const auto begin = error.source().begin;
      throw InputError({Problem{source,
                                begin.line,
                                begin.column,
                                {},
                                "something that is no TOML",
                                "TOML (" + without_controls(error.description()) + ")"}});
    }
  }();
  const Section root(table, "", source);
  if (const std::string found = root.needed_text("schema"); found != schema)
    root.refuse("the schema " + in_quotes(found), in_quotes(schema));
  return use(root);
}

} // namespace eggfall
