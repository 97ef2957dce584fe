#pragma once

#include <zip.h>

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace eggfall {

/// The parts of a workbook, which is a zip file, whether .xlsx or .ods.
class ZipArchive {
public:
  static constexpr std::size_t largest_part = 256U << 20U; ///< In bytes, unpacked.

  /// `source` names the file in messages; `bytes` must outlive this.
  /// @throws InputError if it is no zip file, or cut short.
  ZipArchive(std::string_view bytes, std::string source);

  /// Whether there is a part of this name, in whatever case.
  bool has(const std::string& name) const;

  /// A part unpacked; nothing if there is none of this name, in whatever case.
  /// @throws InputError if it is damaged, encrypted, or larger than `largest_part`.
  std::optional<std::string> part(const std::string& name) const;

  /// @throws InputError that says so of a part, or of the whole if `what` names none.
  [[noreturn]] void refuse_damaged(std::string_view what) const;

  /// @throws InputError that says so, and how to take the password off.
  [[noreturn]] void refuse_password() const;

  /// @throws InputError about the whole file.
  [[noreturn]] void refuse(std::string found, std::string expected) const;

private:
  struct Close {
    void operator()(zip_t* archive) const { zip_discard(archive); }
    void operator()(zip_file_t* file) const { zip_fclose(file); }
  };

  std::string source_;
  std::unique_ptr<zip_t, Close> archive_;
};

} // namespace eggfall
