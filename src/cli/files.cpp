#include "cli/files.hpp"

#include "cli/file_identity.hpp"
#include "cli/input_file.hpp"
#include "cli/refuse_file.hpp"
#include "cli/staged_file.hpp"

#include "base/text.hpp"
#include "eggfall/base/error.hpp"

#include <fmt/format.h>

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <string_view>
#include <system_error>
#include <utility>

namespace eggfall::cli {
namespace {

bool is_null_device(const FileIdentity& file) {
  return file == identity_of_output("/dev/null");
}

/// One file, but none into which two results may go, since nothing stays of them.
bool is_one_output(const std::optional<FileIdentity>& a, const std::optional<FileIdentity>& b) {
  return a && a == b && !is_null_device(*a);
}

/// @throws InputError if no file can be made there.
void check_place(const std::string& path) {
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored))
    refuse_file(path, "a directory", "a file");
  std::filesystem::path folder = std::filesystem::path(path).parent_path();
  if (folder.empty())
    folder = ".";
  if (!std::filesystem::is_directory(folder, ignored))
    cannot_write(path, "no such directory");
  if (can_be_replaced(path) && !std::filesystem::is_symlink(path, ignored) &&
      access(folder.c_str(), W_OK | X_OK) != 0)
    cannot_write(path, fmt::format("no new file in its folder: {}", std::strerror(errno)));
}

} // namespace

std::optional<std::size_t> size_of(const std::string& path) {
  std::error_code error;
  if (path == "-" || !std::filesystem::is_regular_file(path, error))
    return std::nullopt;
  const std::uintmax_t size = std::filesystem::file_size(path, error);
  return error ? std::nullopt : std::optional<std::size_t>(size);
}

std::string read_file(const std::string& path, std::size_t most) {
  InputFile file(path);
  std::string text;
  constexpr std::size_t piece = 1U << 16U;
  for (std::string_view bytes = file.read(piece); !bytes.empty(); bytes = file.read(piece)) {
    text += bytes;
    if (text.size() > most)
      refuse_file(path == "-" ? "standard input" : path,
                  fmt::format("more than {} MiB", most >> 20U),
                  "a file of counts or settings, far smaller");
  }
  return text;
}

void make_directory(const std::string& path) {
  std::error_code error;
  std::vector<std::filesystem::path> above; // of each folder that is to be made
  for (std::filesystem::path folder = std::filesystem::absolute(path, error).lexically_normal();
       !error && !std::filesystem::exists(folder, error) && folder.has_relative_path();
       folder = above.back())
    above.push_back(folder.parent_path());
  std::filesystem::create_directories(path, error);
  if (std::error_code ignored; !std::filesystem::is_directory(path, ignored))
    throw InputError(
        fmt::format("{}: found no way to make this folder ({}); expected a place for it",
                    in_quotes(path), error ? error.message() : "something else has its name"));
  for (const std::filesystem::path& folder : above)
    sync_folder(folder);
}

bool screen_is_free(const std::vector<std::string>& paths) {
  const auto dashes = std::ranges::count(paths, "-");
  if (dashes > 1)
    throw InputError("several outputs to \"-\"; expected one of them on standard output");
  return dashes == 0;
}

std::vector<std::string> given(std::initializer_list<std::string> paths) {
  std::vector<std::string> all(paths);
  std::erase(all, "");
  return all;
}

void check_outputs(std::vector<std::string> paths, const std::vector<std::string>& inputs) {
  for (const std::string& path : paths)
    if (path != "-")
      check_place(path);
  // The usual text, unless a result takes its place; a terminal or a pipe bears both.
  const auto screen = identity_of_output("-");
  if (screen_is_free(paths) && screen && screen->is_regular)
    paths.emplace_back("-");
  std::vector<std::optional<FileIdentity>> read;
  for (const std::string& input : inputs)
    read.push_back(identity_of_input(input));
  std::vector<std::optional<FileIdentity>> written;
  for (const std::string& path : paths) {
    const std::string shown = path == "-" ? "standard output" : path;
    const auto file = identity_of_output(path);
    if (file && file->is_regular && std::ranges::find(read, file) != read.end())
      refuse_file(shown, "an input of this command", "another file to write to");
    if (std::ranges::any_of(written, [&](const auto& other) { return is_one_output(other, file); }))
      refuse_file(shown, "the same file for two outputs", "a file for each");
    written.push_back(file);
  }
}

void write_files(const std::vector<OutputFile>& files, const std::vector<std::string>& inputs) {
  std::vector<std::string> paths;
  for (const OutputFile& file : files)
    paths.push_back(file.path);
  check_outputs(std::move(paths), inputs);
  std::vector<StagedFile> staged;
  for (const bool replaceable : {true, false})
    for (const OutputFile& file : files)
      if (can_be_replaced(file.path) == replaceable) {
        staged.emplace_back(file.path).append(file.text);
        staged.back().finish();
      }
  commit(staged);
}

} // namespace eggfall::cli
