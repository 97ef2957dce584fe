#include "cli/screen.hpp"

#include "cli/staged_file.hpp"

#include "base/user_text.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <iostream>

namespace eggfall::cli {

void hold_standard_streams() {
  for (const int number : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    if (fcntl(number, F_GETFD) < 0 && errno == EBADF) // the lowest free number is what open() takes
      static_cast<void>(open("/dev/null", number == STDIN_FILENO ? O_WRONLY : O_RDONLY));
}

void show(std::string_view text) {
  StagedFile screen("-");
  screen.append(for_screen(text));
  screen.finish();
}

void tell_notes(const std::vector<std::string>& notes) {
  for (const std::string& note : notes)
    std::cerr << "eggfall: note: " << for_screen(note) << '\n';
}

} // namespace eggfall::cli
