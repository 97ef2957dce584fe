#include "simulation/share_json.hpp"

#include "support/support.hpp"

using namespace eggfall;

TEST_CASE("A share is in percent in JSON, with its Monte Carlo error") {
  // Eleven decimals at most: 100 x 0.07 is not 7.000000000000001.
  const Json json = to_json(Share{0.07, 0.0125});
  CHECK(json.dump() == R"({"percent":7.0,"error":1.25})");
  CHECK(to_json(Share{}).dump() == R"({"percent":0.0,"error":0.0})");
  CHECK(to_json(share(99, 99))["percent"] == 100);
}
