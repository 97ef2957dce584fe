#include "web/answer.hpp"

#include "web/design_requests.hpp"
#include "web/fields.hpp"
#include "web/reply.hpp"
#include "web/setting_names.hpp"
#include "web/survey_requests.hpp"
#include "web/table_requests.hpp"
#include "web/teaching_requests.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"
#include "intake/open_question.hpp"
#include "trial/missing_factor.hpp"

#include <fmt/format.h>

#include <array>
#include <exception>
#include <new>
#include <string_view>

namespace eggfall::web {
namespace {

struct Handler {
  std::string_view request;
  Reply (*answer)(Fields& fields, const std::vector<std::string>& files,
                  const Surroundings& surroundings);
};

constexpr auto handlers = std::to_array<Handler>({
    {"understand", understand},
    {"analyse", analyse_tables},
    {"plan", plan_test},
    {"sheets", make_field_sheets},
    {"factor", work_out_factor},
    {"choices", list_choices},
    {"survey", survey_trials},
    {"simulate", simulate_tests},
    {"lesson", lesson},
});

Reply handled(const Frames& request, const Surroundings& surroundings) {
  Json json;
  try {
    json = Json::parse(request.json);
  } catch (const Json::parse_error& error) {
    throw InputError(
        fmt::format("request: found no JSON from byte {} on; expected an object", error.byte));
  } catch (const Json::out_of_range&) {
    throw InputError("request: found a number too large to be held; expected one below 1e308");
  }
  Fields fields(json, "");
  const std::string wanted = fields.text("request");
  std::string names;
  for (const Handler& handler : handlers) {
    if (handler.request == wanted) {
      Reply reply = handler.answer(fields, request.files, surroundings);
      fields.nothing_else();
      return reply;
    }
    names += (names.empty() ? "" : ", ") + std::string(handler.request);
  }
  throw InputError(fmt::format("request: found {}; expected one of {}", in_quotes(wanted), names));
}

Json refusal(std::string_view kind) {
  return {{"ok", false}, {"kind", kind}, {"problems", Json::array()}};
}

Json of_message(std::string_view message) {
  return {{"message", message}};
}

Json input_refusal(std::string_view kind, const InputError& error) {
  Json json = refusal(kind);
  for (const Problem& problem : error.problems())
    json["problems"].push_back(
        {{"message", problem.message(request_names)},
         {"source",
          problem.setting ? request_names.as_place(*problem.setting) : problem.source.name},
         {"sheet", problem.source.sheet},
         {"line", problem.line},
         {"column", problem.column},
         {"column_name", problem.column_name},
         {"found", problem.found},
         {"expected", problem.expected.in(request_names)}});
  if (error.problems().empty())
    json["problems"].push_back(of_message(error.what()));
  return json;
}

Json question(const OpenQuestion& open) {
  Json json = input_refusal("question", open);
  json["answers"] = Json::array();
  for (const LayoutAnswer& answer : open.answers()) {
    Json settings = Json::array();
    for (const LayoutSetting& setting : answer.settings)
      settings.push_back({{"key", setting.key}, {"value", setting.value}});
    json["answers"].push_back({{"means", answer.means}, {"settings", std::move(settings)}});
  }
  return json;
}

std::string text_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

} // namespace

Frames answer(const Frames& request, const Surroundings& surroundings) {
  Json refused;
  try {
    Reply reply = handled(request, surroundings);
    Json json = {{"ok", true}};
    json.update(reply.json);
    json["files"] = Json::array();
    Frames frames;
    for (NamedFile& file : reply.files) {
      json["files"].push_back(file.name);
      frames.files.push_back(std::move(file.bytes));
    }
    frames.json = text_of(json);
    return frames;
  } catch (const OpenQuestion& open) {
    refused = question(open);
  } catch (const InputError& error) {
    refused = input_refusal(lacks_the_factor_alone(error) ? "factor" : "input", error);
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& error) {
    refused = refusal("calculation");
    refused["problems"].push_back(of_message(error.what()));
  }
  return {text_of(refused), {}};
}

} // namespace eggfall::web
