#include "trial/control_option.hpp"

#include "base/problems.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

using namespace eggfall;

namespace {

Trial trial_of(const std::vector<std::string>& groups) {
  Trial trial;
  for (const std::string& group : groups) {
    trial.groups.emplace_back();
    trial.groups.back().name = group;
  }
  return trial;
}

/// What is told of a control group that is in none of the trials.
std::string told(const std::string& control, const std::vector<Trial>& trials) {
  ControlOption option(control);
  for (const Trial& trial : trials)
    option.look_in(trial);
  Problems problems;
  option.check(problems);
  return support::input_error([&] { problems.throw_if_any(); });
}

void check_found(const std::string& control, const std::vector<Trial>& trials) {
  ControlOption option(control);
  for (const Trial& trial : trials)
    option.look_in(trial);
  Problems problems;
  option.check(problems);
  CHECK_FALSE(problems.any());
}

} // namespace

TEST_CASE("A control group need only be in one of the trials") {
  const std::vector<Trial> trials{trial_of({"white"}), trial_of({"yellow", "none"}),
                                  trial_of({"clear"})};
  check_found("none", trials);
  check_found("white", trials);
  // Nothing was asked for.
  check_found("", trials);
  check_found("", {});
}

TEST_CASE("A control group in none of the trials is told with those there are, each once") {
  CHECK(told("None", {trial_of({"white", "none"}), trial_of({"clear", "none"})}) ==
        "control: found the unknown group \"None\"; expected one of the groups \"clear\", "
        "\"none\", \"white\"");
}

TEST_CASE("Of the groups in place of an unknown one a hundred are listed") {
  std::vector<std::string> groups;
  for (int i = 0; i < 100; ++i)
    groups.push_back(fmt::format("g{:03}", i));
  CHECK_THAT(told("none", {trial_of(groups)}), Catch::EndsWith("\"g098\", \"g099\""));
  groups.emplace_back("g100");
  CHECK_THAT(told("none", {trial_of(groups)}), Catch::EndsWith("\"g098\", \"g099\" and more"));
}
