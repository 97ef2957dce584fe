#include "counts_checks.hpp"

#include "harness.hpp"

#include "eggfall/trial/trial_stream.hpp"
#include "trial/counts_table.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace fuzz {

void check_written_and_read_back(const std::vector<eggfall::Trial>& trials) {
  const std::string written = eggfall::counts_table(trials);
  eggfall::ReadOptions options;
  options.trial_name = trials.front().name;
  const std::string again = accepted("a counts table that was written is read", [&] {
    return eggfall::counts_table(eggfall::read_trials(written, "again.csv", options).trials);
  });
  promise(again == written,
          "a counts table that was written is read as the same trials:\n" + written + "\n" + again);
}

void check_read_in_pieces(std::string_view bytes, const eggfall::TrialTable& whole) {
  constexpr std::size_t piece = 7;
  eggfall::TrialStream stream("t.csv", with_factor());
  std::vector<eggfall::Trial> trials;
  const auto keep = [&](std::vector<eggfall::Trial> more) {
    std::ranges::move(more, std::back_inserter(trials));
  };
  try {
    for (std::size_t position = 0; position < bytes.size(); position += piece)
      keep(stream.feed(bytes.substr(position, piece)));
    keep(stream.finish());
  } catch (const eggfall::InputError& error) {
    promise(std::string_view(error.what()).find(" again; expected all rows of a trial together") !=
                std::string_view::npos,
            std::string("a table is read in pieces as it is whole: ") + error.what());
    return;
  }
  promise(eggfall::counts_table(trials) == eggfall::counts_table(whole.trials),
          "a table in pieces gives the trials of the whole");
}

} // namespace fuzz
