#pragma once

#include <cstddef>
#include <string_view>

namespace eggfall::cli {

/// An open file, pipe, device or folder of the operating system, closed with the object.
///
/// All failures are std::system_error, with the system's own number: streams forget it.
class Descriptor {
public:
  Descriptor() = default; ///< None.
  /// Takes over what the system opened; a negative number throws errno.
  explicit Descriptor(int number);
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  Descriptor(Descriptor&& other) noexcept;
  Descriptor& operator=(Descriptor&& other) noexcept;
  ~Descriptor();

  int number() const { return number_; }

  /// The next bytes, at most `most`: how many; 0 at the end.
  std::size_t read(char* bytes, std::size_t most);
  /// All of it, in however many pieces the system takes it.
  void write(std::string_view text);
  /// What was written is on the disk when this returns.
  void sync();
  /// Some file systems tell only now what could not be written.
  void close();

private:
  int number_ = -1;
};

} // namespace eggfall::cli
