// What a page asks of the engine: a JSON, and behind the first NUL the bytes of one file.
#include "harness.hpp"

#include "base/text.hpp"
#include "web/answer.hpp"

#include <nlohmann/json.hpp>

#include <string>

namespace {

using Json = nlohmann::json;

/// What asks for hours of simulation is asked for next to nothing.
std::string made_cheap(std::string_view text) {
  Json json = Json::parse(text, nullptr, false);
  if (!json.is_object())
    return std::string(text);
  const auto request = json.find("request");
  const bool simulates = request != json.end() && *request == "plan";
  if (request != json.end() && *request == "analyse")
    json["simulations"] = 0;
  if (simulates) {
    json["trials"] = 1;
    json["animals"] = {5};
    json["efficacies"] = {90};
  }
  if (request != json.end() && *request == "simulate")
    json["trials"] = 1;
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

eggfall::web::Surroundings surroundings() {
  return {[](const auto&) { return std::string("a workbook"); }, [](std::size_t, std::size_t) {}};
}

} // namespace

void fuzz::read_and_use(std::string_view bytes) {
  const std::size_t nul = bytes.find('\0');
  eggfall::web::Frames request{made_cheap(bytes.substr(0, nul)), {}};
  if (nul != std::string_view::npos)
    request.files.emplace_back(bytes.substr(nul + 1));
  const std::string framed = eggfall::web::framed(request);
  promise(eggfall::web::unframed(framed) == request, "what is framed comes out as it was");
  const eggfall::web::Frames reply = eggfall::web::answer(request, surroundings());
  const Json json = Json::parse(reply.json, nullptr, false);
  promise(json.is_object() && json.contains("ok"), "a reply says whether it is one");
  if (json.at("ok") == true) {
    promise(json.at("files").size() == reply.files.size(), "each file has its name");
    return;
  }
  promise(json.at("kind") != "calculation",
          "what comes from outside makes no calculation fail: " + reply.json);
  promise(!json.at("problems").empty(), "a refusal says why");
  for (const Json& problem : json.at("problems"))
    promise(!problem.at("message").get<std::string>().empty(), "a problem has words");
  // The bytes as a whole are a framed request too, or none.
  eggfall::web::unframed(bytes);
}
