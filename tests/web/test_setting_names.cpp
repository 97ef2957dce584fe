#include "web/setting_names.hpp"

#include "support/support.hpp"

using namespace eggfall;
using eggfall::web::request_names;

TEST_CASE("A request's settings are called by their fields in it") {
  CHECK(request_names.as_place(Setting::units_confirmed) == "unitsConfirmed");
  CHECK(request_names.in_sentence({Setting::units_confirmed}) == "the setting unitsConfirmed");
  CHECK(request_names.in_sentence({Setting::breakdown}) == "the setting by");
  CHECK(request_names.in_sentence({Setting::column, "group=THEIRS"}) ==
        "the setting column group=THEIRS");
  CHECK(request_names.in_sentence({Setting::bench_calculator}) == "the bench calculator");
}

TEST_CASE("No setting is called by an option in a request") {
  for (const Setting setting : all_settings) {
    CAPTURE(to_string(setting));
    CHECK_FALSE(request_names.as_place(setting).empty());
    CHECK(request_names.in_sentence({setting, "x"}).find("--") == std::string::npos);
  }
}
