#include "commands.hpp"
#include "help.hpp"
#include "scratch.hpp"
#include "screen.hpp"

#include "eggfall/error.hpp"
#include "eggfall/version.hpp"

#include <CLI/CLI.hpp>

#include <csignal>
#include <exception>
#include <iostream>
#include <memory>
#include <new>
#include <sstream>
#include <string>

namespace {

constexpr int done = 0;
constexpr int calculation_failed = 1;
constexpr int bad_input = 2;
constexpr int nobody_reads =
    128 + SIGPIPE; ///< As a shell tells it of a program that SIGPIPE ended.

int fail(int code, const std::string& message) {
  std::cerr << "eggfall: " << message << '\n';
  return code;
}

/// Help and version too are shown here, for what is thrown when they cannot be.
void carry_out(CLI::App& app, const eggfall::cli::Action& action, int argc, char** argv) {
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& help) {
    std::ostringstream text;
    app.exit(help, text, text);
    eggfall::cli::show(text.str());
    return;
  }
  action();
}

} // namespace

int main(int argc, char** argv) {
  eggfall::cli::hold_standard_streams();
  std::signal(SIGPIPE, SIG_IGN); // what cannot be written is told by write() itself
  std::signal(SIGXFSZ, SIG_IGN);
  eggfall::cli::remove_scratch_on_signals();
  CLI::App app(
      "How far egg counts fell after a drench, how sure that is, and what it means.\n"
      "Exit codes: 0 done, 1 a calculation failed, 2 bad input, options or place to write.",
      "eggfall");
  app.set_version_flag("--version", std::string(eggfall::version()));
  app.require_subcommand(1);
  app.formatter(std::make_shared<eggfall::cli::HelpFormatter>());

  eggfall::cli::Action action;
  eggfall::cli::add_analyse(app, action);
  eggfall::cli::add_survey(app, action);
  eggfall::cli::add_factor(app, action);
  eggfall::cli::add_audit(app, action);
  eggfall::cli::add_plan(app, action);
  eggfall::cli::add_sheet(app, action);
  eggfall::cli::add_simulate(app, action);
  eggfall::cli::add_teach(app, action);
  eggfall::cli::add_cutoffs(app, action);

  try {
    carry_out(app, action, argc, argv);
    return done;
  } catch (const eggfall::cli::ClosedPipe&) {
    return nobody_reads;
  } catch (const CLI::ParseError& error) {
    return fail(bad_input, std::string(error.what()) + "\nTry: eggfall --help");
  } catch (const eggfall::InputError& error) {
    return fail(bad_input, error.what());
  } catch (const eggfall::CalculationError& error) {
    return fail(calculation_failed, error.what());
  } catch (const std::bad_alloc&) {
    return fail(calculation_failed, "not enough memory for this");
  } catch (const std::exception& error) {
    return fail(calculation_failed, std::string("unexpected failure: ") + error.what());
  }
}
