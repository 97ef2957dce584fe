#include "command_line.hpp"

#include "eggfall/error.hpp"

#include <CLI/CLI.hpp>

#include <exception>
#include <iostream>
#include <string>

namespace {

using namespace eggfall::cli;

int fail(const ExitCode& code, const std::string& message) {
  std::cerr << "eggfall: " << message << '\n';
  return code.number;
}

} // namespace

int main(int argc, char** argv) {
  Action action;
  const auto app = command_line(action);
  try {
    app->parse(argc, argv);
    action();
    if (!std::cout.flush())
      return fail(bad_input, "standard output: found no way to write to it");
    return done.number;
  } catch (const CLI::Success& success) { // --help and --version
    return app->exit(success);
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
