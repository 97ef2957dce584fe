// Reads a table of counts and prints, for each drench group, the fall, an interval for it and the
// class. CMakeLists.txt, beside this file, says how to build and run it.

#include <eggfall/base/error.hpp>
#include <eggfall/base/percent.hpp>
#include <eggfall/judgement/analyse.hpp>
#include <eggfall/trial/read_trials.hpp>

#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

namespace {

// The library knows of no files: it is given the bytes of a table (CSV, or an Excel workbook), and
// a name for them in messages about what is wrong in it.
std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file)
    throw eggfall::InputError(path + ": found no such file; expected a table of counts");
  return {std::istreambuf_iterator<char>(file), {}};
}

void print(const eggfall::GroupAnalysis& group) {
  // A proportion inside the library: percent() makes "67.3%" of 0.673. A group may lack a fall,
  // as when no egg was found before treatment, or an interval; the result then says why.
  std::cout << group.evidence.group.name << ": fall "
            << eggfall::percent_or_missing(group.evidence.reduction);
  if (group.evidence.headline.usable())
    std::cout << ", " << 100 * group.evidence.headline.level << "% interval "
              << eggfall::percent(*group.evidence.headline.lower) << " to "
              << eggfall::percent(*group.evidence.headline.upper);
  else
    std::cout << ", no interval: " << group.evidence.headline.why_not;

  // What is to be thought of the drench: the class that the trial bears, or why it bears none.
  const eggfall::Standing& standing = group.judgement.standing;
  std::cout << "\n  stands as " << to_string(standing.verdict_class);
  for (const eggfall::Bar& bar : standing.bars)
    std::cout << "\n  but: " << bar.text;

  // One verdict by each of the published criteria, by the counts alone. They do not always agree.
  for (const eggfall::Verdict& verdict : group.judgement.verdicts)
    std::cout << "\n  " << to_string(verdict.verdict_class) << " by " << verdict.criteria;
  std::cout << '\n';
  // What is weak in this test, in words, the most serious first.
  if (!group.caveats.empty())
    std::cout << "  beware: " << group.caveats.front().text << '\n';
}

} // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: fall_of_each_group TABLE\n";
    return 2;
  }
  const std::string path = argv[1];
  try {
    // What the table does not say itself can be said here: options.host = "sheep", and what one
    // egg seen stands for, options.factor_before = eggfall::MultiplicationFactor(15).
    eggfall::ReadOptions options;
    // A trial's name is part of what random numbers are keyed by; the program takes the file's too.
    options.trial_name = std::filesystem::path(path).stem().string();
    const eggfall::TrialTable table = eggfall::read_trials(bytes_of(path), path, options);
    for (const std::string& note : table.notes)
      std::cerr << "note: " << note << '\n';

    eggfall::AnalysisSettings settings; // level 90%, seed 1: the same table gives the same result
    settings.simulations = 0;           // what a larger test would have shown is not asked for
    const eggfall::CutOffs cut_offs = eggfall::published_cut_offs();
    for (const eggfall::Trial& trial : table.trials)
      for (const eggfall::GroupAnalysis& group : analyse(trial, cut_offs, settings).groups)
        print(group);
    return 0;
  } catch (const eggfall::InputError& error) {
    // what() has a line for each problem: where it is, what was found, and what was expected.
    std::cerr << error.what() << '\n';
    return 2;
  } catch (const std::exception& error) {
    std::cerr << "the calculation failed: " << error.what() << '\n';
    return 1;
  }
}
