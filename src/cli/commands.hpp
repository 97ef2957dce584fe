#pragma once

#include <functional>

namespace CLI {
class App;
}

namespace eggfall::cli {

/// What a command line asks for, once it is understood.
using Action = std::function<void()>;

/// Each adds its subcommand to `app`; if that is chosen, `action` is set to its work.
void add_analyse(CLI::App& app, Action& action);
void add_read(CLI::App& app, Action& action);
void add_factor(CLI::App& app, Action& action);
void add_survey(CLI::App& app, Action& action);
void add_audit(CLI::App& app, Action& action);
void add_plan(CLI::App& app, Action& action);
void add_sheet(CLI::App& app, Action& action);
void add_simulate(CLI::App& app, Action& action);
void add_teach(CLI::App& app, Action& action);
void add_cutoffs(CLI::App& app, Action& action);

} // namespace eggfall::cli
