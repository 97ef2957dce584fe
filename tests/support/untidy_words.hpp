#pragma once

#include <string>
#include <utility>
#include <vector>

/// Spellings for untidy_table(): the heads of columns and what tells times, by language.
struct UntidyWords {
  using Words = std::vector<std::string>;
  using Pairs = std::vector<std::pair<std::string, std::string>>; ///< Before and after treatment.

  std::string language;
  Words tag;
  Words group;
  Words drench;
  Words role;
  Words occasion; ///< Of a row a sample.
  Words day;
  Words date;
  Words date_treated;
  Pairs dates;
  Pairs times; ///< In the cells below `occasion`.
  // Counts that say EPG or eggs or neither, in columns for each time and in one for both.
  Pairs epgs;
  Pairs eggs;
  Pairs counts;
  Words epg;
  Words egg;
  Words count;
  Words epg_titles;
  Words none_seen;
  Words not_sampled;
  std::pair<std::string, std::string> months; ///< May and June.
};

const std::vector<UntidyWords>& untidy_words();
