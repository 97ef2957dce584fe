#include "eggfall/trial/trial_stream.hpp"

#include "support/malformed_tables.hpp"
#include "support/support.hpp"

#include <fmt/format.h>

#include <algorithm>

using namespace eggfall;

namespace {

ReadOptions factor_50() {
  ReadOptions options;
  options.factor_before = MultiplicationFactor(50);
  options.factor_after = MultiplicationFactor(50);
  options.host = "lambs";
  return options;
}

/// Everything a trial holds, in one text.
std::string shown(const std::vector<Trial>& trials) {
  std::string text;
  const auto count = [&](const std::optional<Count>& each) {
    text += each ? fmt::format(" {}x{}", each->eggs.value(), each->factor.value()) : " -";
  };
  for (const Trial& trial : trials)
    for (const Group& group : trial.groups) {
      text += fmt::format("{}/{}/{}/{}/{}/{}/{}:", trial.name, group.name, to_string(group.role),
                          group.drench, to_string(group.classes), group.host, group.worm);
      for (const Animal& animal : group.animals) {
        text += fmt::format(" [{} line {}", animal.tag, animal.line);
        count(animal.before);
        count(animal.after);
        if (animal.date_treated)
          text += fmt::format(" {}", static_cast<unsigned>(animal.date_treated->day()));
        text += ']';
      }
      text += '\n';
    }
  return text;
}

std::vector<Trial> read_in_pieces(std::string_view text, std::vector<std::size_t> ends,
                                  const ReadOptions& options) {
  TrialStream stream("t.csv", options);
  std::vector<Trial> all;
  std::size_t begin = 0;
  ends.push_back(text.size());
  for (const std::size_t end : ends) {
    std::ranges::move(stream.feed(text.substr(begin, end - begin)), std::back_inserter(all));
    begin = end;
  }
  std::ranges::move(stream.finish(), std::back_inserter(all));
  return all;
}

/// The ends of pieces of `size` bytes.
std::vector<std::size_t> every(std::size_t size, std::string_view text) {
  std::vector<std::size_t> ends;
  for (std::size_t end = size; end < text.size(); end += size)
    ends.push_back(end);
  return ends;
}

const std::vector<std::string>& tables() {
  static const std::vector<std::string> texts{
      // A byte-order mark, CR LF, quoted delimiters, quotes and line ends, and characters of two,
      // three and four bytes.
      "\xEF\xBB\xBFtrial,group,animal,eggs_before,eggs_after,drench,date_treated\r\n"
      "caf\xC3\xA9,A,1,12,1,\"white, the \"\"old\"\" one\",2031-04-27\r\n"
      "caf\xC3\xA9,A,2,3,,,\r\n"
      "\r\n"
      "caf\xC3\xA9,C,1,7,8,\"two\r\nlines\",\r\n"
      "\xE2\x82\xAC\xF0\x9F\x90\x91,B,\"7\",4,0,,\r\n",
      "sep=;\ntrial;group;animal;epg_before;epg_after;role\nx;A;1;50,0;0;\nx;C;1;100;50;control\n"
      "y;A;1;50;0;",
      "\n \ngroup\tanimal\teggs_before\teggs_after\n\t\t\t\nA\t1\t2\t3\t\t\nA\t2\t2\t3",
      "trial,group,animal,eggs_before,eggs_after\rx,A,1,12,1\r\ry,A,1,3,\r",
  };
  return texts;
}

std::string error_in_pieces(std::string_view text, std::size_t size, const ReadOptions& options) {
  return support::input_error([&] { read_in_pieces(text, every(size, text), options); });
}

} // namespace

TEST_CASE("A table cut anywhere into pieces gives the same trials") {
  for (const std::string& text : tables()) {
    const std::string whole = shown(read_trials(text, "t.csv", factor_50()).trials);
    INFO(text);
    CHECK(whole.size() > 50);
    for (std::size_t position = 0; position <= text.size(); ++position)
      if (shown(read_in_pieces(text, {position}, factor_50())) != whole)
        FAIL_CHECK("cut at byte " << position);
    for (std::size_t size = 1; size <= 8; ++size)
      CHECK(shown(read_in_pieces(text, every(size, text), factor_50())) == whole);
  }
}

TEST_CASE("A trial is handed over as soon as the next one begins") {
  TrialStream stream("t.csv", factor_50());
  CHECK(stream.feed("trial,group,animal,eggs_before,eggs_after,shed\nx,A,1,5,1,\nx,B,1,").empty());
  CHECK(stream.feed("5,0,\ny,A,1,5,1,").empty());
  const auto first = stream.feed("\ny,A,2,5,1,\nz,w,1,5,0,\nz,W,1,5,0,\n");
  REQUIRE(first.size() == 2);
  CHECK(first[0].name == "x");
  CHECK(first[0].groups.size() == 2);
  CHECK(first[1].name == "y");
  CHECK(first[1].groups[0].animals.size() == 2);
  const auto last = stream.finish();
  REQUIRE(last.size() == 1);
  CHECK(last[0].name == "z");
  CHECK(stream.notes() == std::vector<std::string>{"t.csv: taken as two groups: \"w\" and \"W\"",
                                                   "t.csv: not used: column \"shed\""});
}

TEST_CASE("Every malformed table is told of in the same words, in pieces or whole") {
  for (const MalformedTable& item : malformed_tables()) {
    INFO(item.name);
    CHECK(error_in_pieces(item.table, 1, item.options) == item.message);
    CHECK(error_in_pieces(item.table, 5, item.options) == item.message);
    CHECK(error_in_pieces(item.table, item.table.size() + 1, item.options) == item.message);
  }
}

TEST_CASE("A trial that comes back after another is a problem of the stream alone") {
  const std::string text = "trial,group,animal,eggs_before,eggs_after\n"
                           "x,A,1,5,1\nx,A,2,5,1\ny,A,1,5,1\nx,A,3,5,1\nx,A,4,5,1\ny,A,2,5,1\n";
  CHECK(read_trials(text, "t.csv", factor_50()).trials[0].groups[0].animals.size() == 4);
  CHECK(error_in_pieces(text, 3, factor_50()) ==
        "t.csv:5: column 1 (trial): found trial \"x\" again; expected all rows of a trial together "
        "(those of this one ended on line 3; sort the table by trial)\n"
        "t.csv:7: column 1 (trial): found trial \"y\" again; expected all rows of a trial together "
        "(those of this one ended on line 4; sort the table by trial)");
}

TEST_CASE("Rows without a trial belong to the trial of the option") {
  const std::string text = "trial,group,animal,eggs_before,eggs_after\n,A,1,5,1\nfarm,A,2,5,1\n";
  ReadOptions options = factor_50();
  options.trial_name = "farm";
  const auto trials = read_in_pieces(text, {}, options);
  REQUIRE(trials.size() == 1);
  CHECK(trials[0].groups[0].animals.size() == 2);
}

TEST_CASE("Problems far apart in a stream are told together, and no later trial is handed over") {
  TrialStream stream("t.csv", factor_50());
  CHECK(
      stream.feed("trial,group,animal,eggs_before,eggs_after\nx,A,1,5,1\ny,A,1,many,1\n").size() ==
      1);
  CHECK(stream.feed("z,A,1,5\nz,A,2,5,1\n").empty());
  CHECK(stream.feed("u,A,1,5,1\nv,A,1,5,-1\n").empty());
  CHECK(support::input_error([&] { stream.finish(); }) ==
        "t.csv:3: column 4 (eggs_before): found \"many\"; expected a whole number of eggs seen, 0 "
        "or more (leave it empty if not sampled)\n"
        "t.csv:4: found 4 cells; expected 5, as in the header\n"
        "t.csv:7: column 5 (eggs_after): found \"-1\"; expected a whole number of eggs seen, 0 or "
        "more (leave it empty if not sampled)");
}

TEST_CASE("The twentieth problem ends a stream") {
  std::string text = "group,animal,eggs_before,eggs_after\n";
  for (int i = 0; i < 20; ++i)
    text += fmt::format("A,{},x,1\n", i);
  TrialStream stream("t.csv", factor_50());
  try {
    stream.feed(text);
    FAIL("the table was read");
  } catch (const InputError& error) {
    CHECK(error.problems().size() == 20);
    CHECK(error.problems().back().line == 21);
  }
}

TEST_CASE("The control group is looked for in every trial before it is called unknown") {
  ReadOptions options = factor_50();
  options.control = "none";
  const std::string header = "trial,group,animal,eggs_before,eggs_after\n";
  const auto trials =
      read_in_pieces(header + "x,A,1,5,1\ny,A,1,5,1\ny,none,1,5,6\n", {60}, options);
  REQUIRE(trials.size() == 2);
  CHECK(control_of(trials[0]) == nullptr);
  CHECK(control_of(trials[1])->name == "none");
  CHECK(error_in_pieces(header + "x,A,1,5,1\ny,B,1,5,1\n", 9, options) ==
        "control: found the unknown group \"none\"; expected one of the groups \"A\", \"B\"");
}

TEST_CASE("A stream has no limit on rows, but a trial in it has") {
  constexpr int most = 1'000'000;
  TrialStream stream("t.csv", factor_50());
  std::string text = "trial,group,animal,eggs_before,eggs_after\n";
  for (int i = 0; i < 10; ++i)
    text += fmt::format("a,A,{},,\n", i);
  for (int i = 0; i < most; ++i)
    text += fmt::format("b,A,{},,\n", i);
  CHECK(stream.feed(text).size() == 1); // 1,000,010 rows are no problem
  CHECK(support::input_error([&] { stream.feed("b,A,x,,\n"); }) ==
        "t.csv:1000012: trial: found more than 1000000 rows of trial \"b\"; expected fewer rows a "
        "trial");
}

TEST_CASE("A stream without an end of line or quote is given up before it fills the memory") {
  const std::string megabyte(1U << 20U, 'x');
  CHECK(support::input_error([&] {
          TrialStream stream("t.csv", {});
          stream.feed(megabyte);
        }) == "t.csv:1: found a line of more than 1048000 bytes; expected lines of a table");
  CHECK(support::input_error([&] {
          TrialStream stream("t.csv", {});
          stream.feed("group,animal,eggs_before,eggs_after\nA,\"1,2,3\n");
          for (int i = 0; i < 2'000; ++i)
            stream.feed(std::string(999, 'x') + '\n');
        }) == "t.csv:2: found a double quote that is not closed in 1048000 bytes; expected a "
              "closing quote");
}
