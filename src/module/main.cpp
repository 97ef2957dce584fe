#include "web/answer.hpp"

#include "eggfall/base/error.hpp"
#include "xlsx/fill_workbook.hpp"

#include <emscripten.h>

#include <cstdint>
#include <cstdio>
#include <exception>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

// The door of the module that eggfall.js calls: bytes in, bytes out.

EM_JS(void, tell_progress, (double done, double all), {
  if (Module.progress)
    Module.progress(done, all);
});

namespace eggfall::web {
namespace {

/// In the folder that a page has in memory: the library writes files alone.
std::string workbook_bytes(const std::vector<ResultSheet>& sheets) {
  constexpr const char* file = "/results.xlsx";
  lxw_workbook* const workbook = workbook_new(file);
  if (workbook == nullptr)
    throw CalculationError("the workbook could not be made: no memory");
  try {
    fill_workbook(workbook, sheets);
  } catch (...) {
    lxw_workbook_free(workbook);
    throw;
  }
  if (const lxw_error error = workbook_close(workbook); error != LXW_NO_ERROR)
    throw CalculationError(std::string("the workbook could not be made: ") + lxw_strerror(error));
  std::ifstream in(file, std::ios::binary);
  std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  std::remove(file);
  return bytes;
}

Frames answered(std::string_view request) {
  const Surroundings surroundings{workbook_bytes, [](std::size_t done, std::size_t all) {
                                    tell_progress(static_cast<double>(done),
                                                  static_cast<double>(all));
                                  }};
  try {
    return answer(unframed(request), surroundings);
  } catch (const std::exception& error) {
    return {std::string(R"({"ok": false, "kind": "calculation", "problems": [{"message": )") +
                R"("out of memory, or a request that is none"}]})",
            {}};
  }
}

std::string reply; // until the next request

} // namespace
} // namespace eggfall::web

extern "C" {

/// Answers the framed request at `bytes`. @return where the framed reply is, until the next call.
EMSCRIPTEN_KEEPALIVE const char* eggfall_answer(const char* bytes, std::size_t size) {
  eggfall::web::reply = eggfall::web::framed(eggfall::web::answered({bytes, size}));
  return eggfall::web::reply.data();
}

EMSCRIPTEN_KEEPALIVE std::size_t eggfall_reply_size() {
  return eggfall::web::reply.size();
}

} // extern "C"
