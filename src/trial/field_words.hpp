#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// The words that farms and laboratories have for hosts and worms. Compiled in, as data; each entry
/// says where it comes from. None of it was taken from a published list.
namespace eggfall {

/// Where an entry of the dictionary comes from. Whoever shows one says so, and asks to check it
/// against a text of parasitology or pharmacology.
enum class WordSource {
  memory,  ///< Written down from memory.
  practice ///< Common practice, with no source.
};

std::string_view to_string(WordSource source);

/// A host that has a name here.
struct HostWord {
  std::string_view name; ///< canonical_host().
  /// False for hosts for which nobody published cut-offs that are compiled in, such as alpacas.
  bool has_cut_offs = true;
  WordSource source = WordSource::practice;
};

/// The host that a word means, singular or plural, by species, sex or age ("ewe", "wethers"),
/// whatever its case; nothing for a word that is not known.
///
/// Donkeys are horses here, though the thresholds were made for horses.
std::optional<HostWord> known_host(std::string_view word);

/// The hosts of HostWord::has_cut_offs, to be offered where a host is asked for.
std::vector<std::string_view> hosts_with_cut_offs();

/// A worm, or another parasite, that has a name here.
struct WormWord {
  std::string_view name; ///< canonical_worm().
  WordSource source = WordSource::memory;
};

/// The worm that the whole of a name means, whatever its case: by genus ("Haemonchus spp."), by
/// species, by a species with its genus cut short ("H. contortus"), or by a name of the trade
/// ("barber's pole worm"). The species of one genus are one worm. What not_a_roundworm() tells is
/// known too. Nothing for a name that is not known, or that two worms go by ("brown stomach worm").
std::optional<WormWord> known_worm(std::string_view name);

/// What the eggs, oocysts or larvae of a name in a table are, if not of the roundworms that these
/// tests are made for.
struct NotARoundworm {
  std::string_view name;   ///< canonical_worm() of its names.
  std::string_view called; ///< In plain English: "liver fluke".
  /// Why no cut-off applies, and what such a count can say and what not, in whole sentences.
  std::string_view why;
  WordSource source = WordSource::memory;
};

/// Nothing for a roundworm, and for a name that is not known. Any word of the name is enough:
/// "Eimeria spp. oocysts" are coccidia, and so are "strongyles and coccidia", since a count with
/// coccidia in it cannot be judged by cut-offs for strongyles.
std::optional<NotARoundworm> not_a_roundworm(std::string_view name);

/// The spellings out of `words` that a word is nearest to, by edit_distance() and whatever their
/// case: at most three, all at one distance, which is at most a third of the word's bytes (and at
/// least 1). For a question ("is sheep meant?"); nothing may be read by it. A word that is known
/// has none.
std::vector<std::string_view> nearest_words(std::string_view word,
                                            const std::vector<std::string_view>& words);

/// nearest_words() of those that known_host() knows.
std::vector<std::string_view> nearest_hosts(std::string_view word);

/// What is expected in the place of a host that is not known and near to one that is: a slip of
/// the pen, by which a test would be judged as if it were of a host without rules. Nothing for a
/// known host, for none, and for a word that is near to none ("reindeer"), which a user's own
/// cut-offs may name.
std::optional<std::string> expected_host(std::string_view word);

/// canonical_host() of a setting.
/// @throws InputError of Setting::host where there is an expected_host().
std::string host_told(std::string_view word);

/// nearest_words() of those that known_worm() knows.
std::vector<std::string_view> nearest_worms(std::string_view name);

/// " (is BZ or LV meant?)", to be put behind what was expected; empty if there is none.
std::string is_meant(const std::vector<std::string_view>& words);

/// The parts of a list, as tables of words hold them: of "a|b", "a" and "b"; of nothing, none.
std::vector<std::string_view> listed_words(std::string_view list);

} // namespace eggfall
