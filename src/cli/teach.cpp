#include "cli/carry_out.hpp"
#include "cli/chosen_cut_offs.hpp"
#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/help.hpp"
#include "cli/scenario_option.hpp"
#include "cli/screen.hpp"
#include "cli/student_folder.hpp"
#include "cli/values.hpp"

#include "simulation/truth_json.hpp"
#include "teach/chamber/chamber_key_page.hpp"
#include "teach/chamber/chamber_page.hpp"
#include "teach/chamber/chamber_practical.hpp"
#include "teach/exercises/design_exercises.hpp"
#include "teach/exercises/exercise_answers_page.hpp"
#include "teach/exercises/exercises_page.hpp"
#include "teach/slider/slider_audit.hpp"
#include "teach/slider/slider_page.hpp"
#include "teach/students/student_answers.hpp"
#include "teach/students/student_line_up.hpp"
#include "teach/students/student_pack.hpp"
#include "teach/students/student_pack_text.hpp"
#include "teach/students/student_worksheets.hpp"
#include "trial/counts_table.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <memory>
#include <string>
#include <vector>

namespace eggfall::cli {
namespace {

struct TeachOptions {
  ScenarioOption scenario;
  std::size_t students = 30;
  std::uint64_t seed = 1;
  std::string folder;
};

OutputFile table_file(const std::string& folder, const Trial& trial) {
  return {fmt::format("{}/tables/{}.csv", folder, trial.name), counts_table({trial})};
}

std::vector<OutputFile> student_files(const StudentPack& pack, const DesignExercises& exercises,
                                      const std::string& folder) {
  const ChamberPractical bench = chamber_practical(pack.seed);
  const AuditResult lesson = slider_audit();
  std::vector<OutputFile> files{
      {folder + "/index.html", start_page(pack)},
      {folder + "/worksheets.html", worksheets_page(pack)},
      {folder + "/answers.html", answers_page(pack)},
      {folder + "/line-up.html", line_up_page(pack)},
      {folder + "/exercises.html", exercises_page(pack, exercises)},
      {folder + "/exercise-answers.html", exercise_answers_page(pack, exercises)},
      {folder + "/bench.html", chamber_page(bench)},
      {folder + "/bench-key.html", chamber_key_page(bench)},
      {folder + "/lesson.html", slider_page(lesson, examples_of(lesson, slider_examples))}};
  std::vector<SimulatedTrial> simulated;
  for (const Worksheet& sheet : pack.worksheets) {
    simulated.push_back(sheet.simulated);
    files.push_back(table_file(folder, sheet.simulated.trial));
  }
  for (const ExerciseTest* test : all_tests(exercises))
    files.push_back(table_file(folder, test->trial));
  files.push_back({folder + "/truth.json", truth_json(pack.scenario, pack.seed, simulated)});
  return files;
}

void run_teach(const TeachOptions& options) {
  const CutOffs cut_offs = chosen_cut_offs("");
  const StudentPack pack =
      student_pack(chosen_scenario(options.scenario), options.students, options.seed, cut_offs);
  check_student_folder(options.folder, options.students);
  make_directory(options.folder + "/tables"); // before the long work
  AuditResult audited = exercise_audit(pack, cut_offs);
  carry_out(audited, audit_tasks(audited.farms.size(), audited.settings, audited.shard));
  const DesignExercises exercises = design_exercises(pack, cut_offs, audited);
  const std::vector<OutputFile> files = student_files(pack, exercises, options.folder);
  write_files(files, inputs_of(options.scenario));
  show(student_pack_text(pack, options.folder));
}

} // namespace

void add_teach(CLI::App& app, Action& action) {
  auto options = std::make_shared<TeachOptions>();
  CLI::App& command = *app.add_subcommand(
      "teach", "A class pack: worksheets, answers, a line-up against the truth, exercises");
  command.add_option("--folder", options->folder, "Folder to write into; made if need be")
      ->type_name(folder_value)
      ->required();
  add_scenario_option(command, options->scenario);
  command.add_option("--students", options->students, "Worksheets, each a test of its own")
      ->check(whole_number(StudentPack::most_students, 1))
      ->capture_default_str();
  command.add_option("--seed", options->seed, "Seed: another one, another class")
      ->check(whole_number())
      ->capture_default_str();
  command.footer("Example: eggfall teach --folder class-pack --students 30 --seed 1");
  command.callback([options, &action] { action = [options] { run_teach(*options); }; });
}

} // namespace eggfall::cli
