#include "commands.hpp"
#include "help.hpp"

#include "eggfall/error.hpp"
#include "eggfall/version.hpp"

#include <CLI/CLI.hpp>

#include <exception>
#include <iostream>
#include <memory>
#include <string>

namespace {

constexpr int done = 0;
constexpr int calculation_failed = 1;
constexpr int bad_input = 2;

int fail(int code, const std::string& message) {
  std::cerr << "eggfall: " << message << '\n';
  return code;
}

} // namespace

int main(int argc, char** argv) {
  CLI::App app("How far egg counts fell after a drench, how sure that is, and what it means.\n"
               "Exit codes: 0 done, 1 a calculation failed, 2 bad input or options.",
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
    app.parse(argc, argv);
    action();
    if (!std::cout.flush())
      return fail(bad_input, "standard output: found no way to write to it");
    return done;
  } catch (const CLI::Success& success) { // --help and --version
    return app.exit(success);
  } catch (const CLI::ParseError& error) {
    return fail(bad_input, std::string(error.what()) + "\nTry: eggfall --help");
  } catch (const eggfall::InputError& error) {
    return fail(bad_input, error.what());
  } catch (const eggfall::CalculationError& error) {
    return fail(calculation_failed, error.what());
  } catch (const std::exception& error) {
    return fail(calculation_failed, std::string("unexpected failure: ") + error.what());
  }
}
