#pragma once

#include "cli/descriptor.hpp"
#include "cli/scratch.hpp"

#include <filesystem>
#include <span>
#include <string>
#include <string_view>

namespace eggfall::cli {

/// Whether a result can be written aside and moved into this place: a file, or nothing there yet.
/// Standard output ("-"), a device or a pipe is written to as it is.
bool can_be_replaced(const std::string& path);

/// A result written piece by piece: aside, in the folder of its destination, until commit() moves
/// it there, so that the destination always holds the old result or the new one, whole. It keeps
/// the permissions of the file it replaces; of a symbolic link, the file that it points to is
/// replaced.
class StagedFile {
public:
  /// @throws InputError if it cannot be written.
  explicit StagedFile(const std::string& path);

  /// @throws InputError if it cannot be written; ClosedPipe.
  void append(std::string_view text);
  /// Nothing is appended any more; what was is on the disk. May be called again.
  /// @throws InputError if it cannot be written; ClosedPipe.
  void finish();

private:
  friend void commit(std::span<StagedFile> files);
  void open_aside();
  void keep_old();
  void replace();
  void put_back() noexcept;
  void checked(const std::function<void()>& write) const;

  std::string shown_;
  std::filesystem::path path_; ///< Empty: it cannot be replaced.
  Scratch aside_;
  Scratch old_; ///< A second name of the file that is replaced, if the file system can do that.
  bool is_new_ = false;
  bool replaced_ = false;
  Descriptor file_;
};

/// Finishes all and moves them to their destinations, and the folders to the disk: all or, if one
/// cannot be moved, none (on a file system without hard links, as many as went before it).
/// @throws InputError if one cannot be written; ClosedPipe.
void commit(std::span<StagedFile> files);

/// The entries of a folder are on the disk when this returns, if its file system can do that.
/// @throws InputError if they cannot be written.
void sync_folder(const std::filesystem::path& folder);

} // namespace eggfall::cli
