#include "cli/command_line.hpp"
#include "cli/files.hpp"
#include "manual/bash_completion.hpp"
#include "manual/command_tree.hpp"
#include "manual/fish_completion.hpp"
#include "manual/man_page.hpp"
#include "manual/zsh_completion.hpp"
#include "report/drawing_specimen.hpp"

#include <CLI/CLI.hpp>

#include <exception>
#include <iostream>
#include <string>

// Writes the manual page, the completions of the program and the specimen of its drawings into a
// folder, at build time.
int main(int argc, char** argv) {
  using namespace eggfall;
  if (argc != 3) {
    std::cerr << "usage: eggfall_write_manual FOLDER YYYY-MM-DD\n";
    return cli::bad_input.number;
  }
  try {
    const std::string folder = argv[1];
    cli::Action unused;
    const manual::CommandTree tree = manual::command_tree(*cli::command_line(unused));
    cli::make_directory(folder);
    cli::write_files({{folder + "/eggfall.1", manual::man_page(tree, argv[2])},
                      {folder + "/eggfall.bash", manual::bash_completion(tree)},
                      {folder + "/_eggfall", manual::zsh_completion(tree)},
                      {folder + "/eggfall.fish", manual::fish_completion(tree)},
                      {folder + "/drawing.html", drawing_specimen()}},
                     {});
  } catch (const std::exception& error) {
    std::cerr << "eggfall_write_manual: " << error.what() << '\n';
    return cli::calculation_failed.number;
  }
  return cli::done.number;
}
