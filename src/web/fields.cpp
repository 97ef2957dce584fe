#include "web/fields.hpp"

#include "base/quoted_list.hpp"
#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eggfall::web {
namespace {

const Json& nothing() {
  static const Json empty = Json::object();
  return empty;
}

std::string shown(const Json& value) {
  constexpr std::size_t enough = 60;
  std::string text = value.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (text.size() > enough)
    return fmt::format("{} of {} bytes", value.type_name(), text.size());
  return text;
}

[[noreturn]] void refuse(const std::string& place, const Json& value, std::string_view expected) {
  throw InputError(fmt::format("{}: found {}; expected {}", place, shown(value), expected));
}

const std::string& as_text(const std::string& place, const Json& value) {
  if (!value.is_string())
    refuse(place, value, "a text");
  return value.get_ref<const std::string&>();
}

double as_number(const std::string& place, const Json& value, double least, double most) {
  if (!value.is_number() || !(value.get<double>() >= least && value.get<double>() <= most))
    refuse(place, value, fmt::format("a number from {} to {}", least, most));
  return value.get<double>();
}

std::uint64_t as_whole(const std::string& place, const Json& value, std::uint64_t least,
                       std::uint64_t most) {
  if (!value.is_number_unsigned() || value.get<std::uint64_t>() < least ||
      value.get<std::uint64_t>() > most)
    refuse(place, value, fmt::format("a whole number from {} to {}", least, most));
  return value.get<std::uint64_t>();
}

} // namespace

Fields::Fields(const Json& json, std::string where) : json_(&json), where_(std::move(where)) {
  if (!json.is_object())
    refuse(where_, json, "an object");
}

const Json* Fields::find(std::string_view name) {
  known_.emplace_back(name);
  const auto found = json_->find(name);
  return found == json_->end() || found->is_null() ? nullptr : &*found;
}

const Json& Fields::array(std::string_view name) {
  static const Json none = Json::array();
  const Json* const value = find(name);
  if (value == nullptr)
    return none;
  if (!value->is_array())
    refuse(place(name), *value, "a list");
  return *value;
}

bool Fields::has(std::string_view name) const {
  const auto found = json_->find(name);
  return found != json_->end() && !found->is_null();
}

std::string Fields::place(std::string_view name) const {
  return where_.empty() ? std::string(name) : fmt::format("{}.{}", where_, name);
}

std::string Fields::text(std::string_view name) {
  return normalised(raw_text(name));
}

std::string Fields::raw_text(std::string_view name) {
  const Json* const value = find(name);
  return value == nullptr ? std::string() : as_text(place(name), *value);
}

std::vector<std::string> Fields::texts(std::string_view name) {
  std::vector<std::string> all;
  for (const Json& value : array(name))
    all.push_back(normalised(as_text(place(name), value)));
  return all;
}

bool Fields::yes(std::string_view name) {
  const Json* const value = find(name);
  if (value != nullptr && !value->is_boolean())
    refuse(place(name), *value, "true or false");
  return value != nullptr && value->get<bool>();
}

std::optional<double> Fields::number(std::string_view name, double least, double most) {
  const Json* const value = find(name);
  return value == nullptr ? std::nullopt
                          : std::optional(as_number(place(name), *value, least, most));
}

std::vector<double> Fields::numbers(std::string_view name, double least, double most) {
  std::vector<double> all;
  for (const Json& value : array(name))
    all.push_back(as_number(place(name), value, least, most));
  return all;
}

std::optional<std::uint64_t> Fields::whole(std::string_view name, std::uint64_t least,
                                           std::uint64_t most) {
  const Json* const value = find(name);
  return value == nullptr ? std::nullopt
                          : std::optional(as_whole(place(name), *value, least, most));
}

std::vector<std::size_t> Fields::wholes(std::string_view name, std::size_t least,
                                        std::size_t most) {
  std::vector<std::size_t> all;
  for (const Json& value : array(name))
    all.push_back(static_cast<std::size_t>(as_whole(place(name), value, least, most)));
  return all;
}

std::vector<Fields> Fields::objects(std::string_view name) {
  std::vector<Fields> all;
  for (const Json& value : array(name))
    all.emplace_back(value, place(name));
  return all;
}

Fields Fields::object(std::string_view name) {
  const Json* const value = find(name);
  return {value == nullptr ? nothing() : *value, place(name)};
}

void Fields::nothing_else() const {
  for (const auto& [name, value] : json_->items())
    if (std::ranges::find(known_, name) == known_.end())
      throw InputError(fmt::format("{}: found the name {}; expected {}",
                                   where_.empty() ? "request" : where_, in_quotes(name),
                                   quoted_list(known_, known_.size())));
}

} // namespace eggfall::web
