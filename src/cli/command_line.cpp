#include "cli/command_line.hpp"

#include "cli/guarded_values.hpp"
#include "cli/help.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/base/version.hpp"
#include "trial/field_words.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <string>
#include <vector>

namespace eggfall::cli {
namespace {

std::string description() {
  std::string codes;
  for (const ExitCode& code : exit_codes)
    codes += fmt::format("{} {} {}", codes.empty() ? "" : ",", code.number, code.meaning);
  return fmt::format("{}\nExit codes:{}.", purpose, codes);
}

} // namespace

std::unique_ptr<CLI::App> command_line(Action& action) {
  auto app = std::make_unique<CLI::App>(description(), "eggfall");
  app->set_version_flag("--version", std::string(version()));
  app->require_subcommand(1);
  app->formatter(std::make_shared<HelpFormatter>());
  add_analyse(*app, action);
  add_read(*app, action);
  add_survey(*app, action);
  add_factor(*app, action);
  add_audit(*app, action);
  add_plan(*app, action);
  add_sheet(*app, action);
  add_simulate(*app, action);
  add_teach(*app, action);
  add_cutoffs(*app, action);
  guard_values(*app);
  return app;
}

void refuse_unknown_command(const CLI::App& app, std::string_view word) {
  if (word.empty() || word.front() == '-')
    return;
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands({})) {
    if (command->get_name() == word)
      return;
    names.push_back(command->get_name());
  }
  throw InputError(fmt::format(
      "found {}; expected a command{}: {}\nTry: eggfall --help", in_quotes(word),
      is_meant(nearest_words(word, {names.begin(), names.end()})), fmt::join(names, ", ")));
}

} // namespace eggfall::cli
