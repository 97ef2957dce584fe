#pragma once

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/percent.hpp"
#include "eggfall/base/shard.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace eggfall {

using Json = nlohmann::ordered_json;

/// JSON knows no numbers that are not finite.
inline Json or_null(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}
inline Json or_null(const std::optional<double>& value) {
  return value ? or_null(*value) : Json(nullptr);
}
template <typename T> Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

inline Json in_percent(const std::optional<double>& proportion) {
  return proportion && std::isfinite(*proportion) ? Json(in_percent(*proportion)) : Json(nullptr);
}

/// The value that a name stands for. @throws std::invalid_argument if there is none.
template <typename Parse> auto named(const Json& name, Parse&& parse) {
  const auto value = parse(name.get<std::string>());
  if (!value)
    throw std::invalid_argument("the unknown name " + in_quotes(name.get<std::string>()));
  return *value;
}

inline void require(bool right, const char* what) {
  if (!right)
    throw std::invalid_argument(what);
}

/// A whole number from 0 to `most`: a conversion by the JSON library would wrap a negative one
/// round and cut a fraction off. @throws std::invalid_argument for any other.
inline std::uint64_t whole(const Json& json, std::uint64_t most) {
  if (!json.is_number_unsigned() || json.get<std::uint64_t>() > most)
    throw std::invalid_argument(fmt::format("{}, not a whole number from 0 to {}",
                                            json.is_number() ? json.dump() : json.type_name(),
                                            most));
  return json.get<std::uint64_t>();
}

/// {"index": 1, "of": 3}. @throws std::invalid_argument if there is no such part.
inline Shard read_shard(const Json& json) {
  const auto number = [&](const char* key) {
    return static_cast<std::size_t>(whole(json.at(key), Shard::most));
  };
  const Shard shard{number("index"), number("of")};
  require(shard.index >= 1 && shard.index <= shard.count, "an impossible part");
  return shard;
}

/// A level or a threshold. @throws std::invalid_argument if it is none.
inline double within(const Json& json, double least, double most) {
  const auto value = json.get<double>();
  require(value >= least && value <= most, "a level or threshold out of range");
  return value;
}

/// Every text in it normalised(), since titles and names in it go to screens and pages again.
inline void normalise_texts(Json& json) {
  std::vector<Json*> left{&json}; // not by recursion: what was read may be nested at will
  while (!left.empty()) {
    Json& value = *left.back();
    left.pop_back();
    if (value.is_string())
      value = normalised(value.get_ref<const std::string&>());
    else if (value.is_structured())
      for (Json& each : value)
        left.push_back(&each);
  }
}

/// What `read` makes of a JSON text.
/// @throws InputError that says `found` (and why) and `expected`, for what is no JSON and for what
///   `read` refuses by an exception of the JSON library, InputError or std::invalid_argument.
template <typename Read>
auto read_json(std::string_view json, const std::string& source, std::string_view found,
               std::string expected, Read&& read) {
  std::string why;
  try {
    Json parsed = Json::parse(json);
    normalise_texts(parsed);
    return read(parsed);
  } catch (const Json::parse_error& error) {
    why = fmt::format("not JSON, from byte {} on", error.byte);
  } catch (const Json::exception&) {
    why = "a part of it is missing, or not of its kind";
  } catch (const InputError& error) {
    why = error.what();
  } catch (const std::invalid_argument& error) {
    why = error.what();
  }
  throw InputError({Problem{source,
                            0,
                            0,
                            {},
                            fmt::format("{} ({})", found, without_controls(why)),
                            std::move(expected)}});
}

} // namespace eggfall
