#include "cli/command_line.hpp"
#include "cli/option_name.hpp"
#include "cli/scratch.hpp"
#include "cli/screen.hpp"

#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"

#include <CLI/CLI.hpp>

#include <csignal>
#include <exception>
#include <iostream>
#include <new>
#include <sstream>
#include <string>

namespace {

using namespace eggfall::cli;

using eggfall::for_screen;

int fail(const ExitCode& code, const std::string& message) {
  std::cerr << "eggfall: " << for_screen(message) << '\n';
  return code.number;
}

/// Help and version too are shown here, for what is thrown when they cannot be.
void parse_and_run(CLI::App& app, const Action& action, int argc, char** argv) {
  if (argc > 1)
    refuse_unknown_command(app, argv[1]);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& help) {
    std::ostringstream text;
    app.exit(help, text, text);
    show(text.str());
    return;
  }
  action();
}

} // namespace

int main(int argc, char** argv) {
  hold_standard_streams();
  std::signal(SIGPIPE, SIG_IGN); // what cannot be written is told by write() itself
  std::signal(SIGXFSZ, SIG_IGN);
  remove_scratch_on_signals();
  Action action;
  const auto app = command_line(action);
  try {
    parse_and_run(*app, action, argc, argv);
    return done.number;
  } catch (const ClosedPipe&) {
    return nobody_reads.number;
  } catch (const CLI::ParseError& error) {
    return fail(bad_input, std::string(error.what()) + "\nTry: eggfall --help");
  } catch (const eggfall::InputError& error) {
    return fail(bad_input, error.message(option_names));
  } catch (const eggfall::CalculationError& error) {
    return fail(calculation_failed, error.what());
  } catch (const std::bad_alloc&) {
    return fail(calculation_failed, "not enough memory for this");
  } catch (const std::exception& error) {
    return fail(calculation_failed, std::string("unexpected failure: ") + error.what());
  }
}
