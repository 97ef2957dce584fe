#include "trial/field_words.hpp"

#include "base/text.hpp"
#include "base/user_text.hpp"
#include "eggfall/base/error.hpp"
#include "eggfall/trial/trial.hpp"
#include "trial/name_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <unordered_map>
#include <utility>

namespace eggfall {
namespace {

/// A host, and every word for it, as plain_words() has them.
struct HostEntry {
  HostWord host;
  std::string_view words;
};

constexpr std::array hosts{
    HostEntry{{"sheep"},
              "sheep|ovine|ovines|ewe|ewes|lamb|lambs|ram|rams|wether|wethers|hogget|hoggets"},
    HostEntry{{"goats"}, "goat|goats|caprine|caprines|doe|does|kid|kids|buck|bucks"},
    HostEntry{{"cattle"},
              "cattle|bovine|bovines|cow|cows|calf|calves|heifer|heifers|steer|steers|bull|bulls"},
    HostEntry{{"horses"},
              "horse|horses|equine|equines|pony|ponies|foal|foals|mare|mares|gelding|geldings|"
              "stallion|stallions|donkey|donkeys"},
    HostEntry{{"pigs"}, "pig|pigs|swine|sow|sows|piglet|piglets|boar|boars|gilt|gilts"},
    HostEntry{{"alpacas", false}, "alpaca|alpacas"},
    HostEntry{{"llamas", false}, "llama|llamas"},
    HostEntry{{"deer", false}, "deer"},
    HostEntry{{"camels", false}, "camel|camels"},
};

/// A worm by all its names, as plain_words() has them. Species go with their genus written out or
/// cut to its letter. Whole names are those that need no genus; what ends in worm or fluke has its
/// plural besides.
struct WormEntry {
  std::string_view name;
  std::string_view genera;
  std::string_view species;
  std::string_view whole_names;
  WordSource source = WordSource::memory;
};

/// Left out on purpose: "brown stomach worm" and "redworm" without small or large, which are two
/// worms each.
constexpr std::array roundworms{
    WormEntry{"haemonchus", "haemonchus", "contortus|placei|similis|longistipes",
              "barbers pole worm|barber pole worm|barberpole worm"},
    WormEntry{"teladorsagia", "teladorsagia", "circumcincta|trifurcata|davtiani",
              "ostertagia circumcincta|o circumcincta|small brown stomach worm"},
    WormEntry{"ostertagia", "ostertagia", "ostertagi|lyrata|leptospicularis", ""},
    WormEntry{"trichostrongylus", "trichostrongylus", "axei|colubriformis|vitrinus|rugatus",
              "black scour worm"},
    WormEntry{"cooperia", "cooperia", "oncophora|punctata|curticei|pectinata|surnabada", ""},
    WormEntry{"oesophagostomum", "oesophagostomum|esophagostomum",
              "radiatum|columbianum|venulosum|dentatum|quadrispinulatum",
              "nodule worm|nodular worm"},
    WormEntry{"chabertia", "chabertia", "ovina", "large mouthed bowel worm"},
    WormEntry{"bunostomum", "bunostomum", "trigonocephalum|phlebotomum", "hookworm"},
    WormEntry{"nematodirus", "nematodirus", "battus|filicollis|spathiger|helvetianus",
              "nem|thin necked|thin necked worm|thin necked intestinal worm"},
    WormEntry{"strongyloides", "strongyloides", "papillosus|westeri|ransomi", ""},
    WormEntry{"trichuris", "trichuris", "suis|discolor|globulosa", "trichuris ovis|whipworm"},
    WormEntry{"ascarids", "parascaris|ascaris", "equorum|univalens|suum",
              "ascarid|ascarids|large roundworm"},
    WormEntry{"oxyuris", "oxyuris", "equi", "pinworm"},
    // As laboratories write it where eggs of several genera cannot be told.
    WormEntry{"strongyles", "", "",
              "strongyle|strongyles|strongylid|strongylids|strongyle type|strongyle type egg|"
              "strongyle type eggs|cyathostomin|cyathostomins|cyathostome|cyathostomes|"
              "cyathostominae|small strongyle|small strongyles|small redworm",
              WordSource::practice},
    WormEntry{"strongylus", "strongylus", "vulgaris|edentatus|equinus",
              "large strongyle|large strongyles|large redworm"},
    WormEntry{"hyostrongylus", "hyostrongylus", "rubidus", "red stomach worm"},
};

constexpr std::string_view of_flukes =
    "The cut-offs are for roundworms. Eggs of fluke of the liver leave the gall bladder for weeks "
    "after a cure, so eggs after treatment do not show that the drench failed, and how far they "
    "fell is no "
    "measure of it.";

/// What is not a roundworm of these tests. Any of its words in a name is enough.
struct StrangerEntry {
  NotARoundworm what;
  std::string_view genera;
  std::string_view species;
  std::string_view whole_names;
};

/// The first that has a word in the name is taken: oocysts of Cryptosporidium are no coccidia.
constexpr std::array strangers{
    StrangerEntry{
        {"fasciola", "liver fluke", of_flukes}, "fasciola", "hepatica|gigantica", "liver fluke"},
    StrangerEntry{
        {"dicrocoelium", "lancet fluke", of_flukes}, "dicrocoelium", "dendriticum", "lancet fluke"},
    StrangerEntry{{"rumen fluke", "rumen fluke",
                   "The cut-offs are for roundworms, and none of them is for fluke of the rumen. A "
                   "count shows that an animal has adult fluke, not that a roundworm drench works "
                   "or fails."},
                  "paramphistomum|calicophoron",
                  "cervi|daubneyi",
                  "rumen fluke|stomach fluke|paramphistome|paramphistomes"},
    StrangerEntry{{"fluke", "fluke", of_flukes}, "", "", "fluke"},
    StrangerEntry{{"tapeworms", "tapeworms",
                   "The cut-offs are for roundworms. Tapeworms shed their eggs in segments, "
                   "unevenly from one dropping to the next, so counts can say that there are "
                   "tapeworms, but a fall says little of the drench, and no eggs do not show that "
                   "the tapeworms are gone."},
                  "moniezia|anoplocephala",
                  "expansa|benedeni|perfoliata|magna",
                  "tapeworm|tape worm|cestode|cestodes"},
    StrangerEntry{{"cryptosporidium", "Cryptosporidium, a protozoon",
                   "It is no worm: drenches against roundworms do not act on it, and no cut-off "
                   "applies. Shedding rises and falls by itself."},
                  "cryptosporidium",
                  "parvum",
                  "cryptosporidia"},
    StrangerEntry{{"coccidia", "coccidia",
                   "They are no worms: drenches against roundworms do not act on them, and no "
                   "cut-off applies. Oocysts rise and fall by themselves, as young animals become "
                   "immune, so a fall after treatment is no proof of a drench, nor a rise against "
                   "it."},
                  "eimeria|isospora|cystoisospora",
                  "",
                  "coccidia|coccidium|coccidian|coccidians|coccidial|oocyst|oocysts"},
    StrangerEntry{{"giardia", "Giardia, a protozoon",
                   "It is no worm, and no cut-off applies: cysts are shed on some days and not on "
                   "others, so a fall or a rise says nothing of a drench."},
                  "giardia",
                  "duodenalis|intestinalis",
                  ""},
    StrangerEntry{{"protozoa", "protozoa",
                   "They are no worms: no cut-off applies, and a fall or a rise says nothing of a "
                   "drench against roundworms."},
                  "toxoplasma|sarcocystis|balantidium|buxtonella|entamoeba",
                  "",
                  "protozoa|protozoan|protozoans|protozoon"},
    StrangerEntry{
        {"lungworm", "lungworm",
         "Lungworm is found as larvae, by the Baermann technique, rather than as eggs on "
         "the slide. So no cut-off for egg counts applies, and no eggs do not show that the "
         "lungworm is gone."},
        "dictyocaulus|muellerius|protostrongylus",
        "viviparus|filaria|arnfieldi|capillaris|rufescens",
        "lungworm|lung worm"},
};

using Spellings = std::unordered_map<std::string, WormWord>;

/// Every way to write the names of one worm.
template <typename Entry>
void add_spellings(Spellings& spellings, const Entry& entry, const WormWord& worm) {
  for (const std::string_view genus : listed_words(entry.genera)) {
    spellings.emplace(genus, worm);
    for (const std::string_view of_unknown_species : {"sp", "spp", "species"})
      spellings.emplace(fmt::format("{} {}", genus, of_unknown_species), worm);
    for (const std::string_view species : listed_words(entry.species)) {
      spellings.emplace(fmt::format("{} {}", genus, species), worm);
      spellings.emplace(fmt::format("{} {}", genus.substr(0, 1), species), worm);
    }
  }
  for (const std::string_view whole : listed_words(entry.whole_names)) {
    spellings.emplace(whole, worm);
    if (whole.ends_with("worm") || whole.ends_with("fluke"))
      spellings.emplace(fmt::format("{}s", whole), worm);
  }
  spellings.emplace(worm.name, worm);
}

const Spellings& worm_spellings() {
  static const Spellings all = [] {
    Spellings spellings;
    for (const WormEntry& worm : roundworms)
      add_spellings(spellings, worm, {worm.name, worm.source});
    for (const StrangerEntry& stranger : strangers)
      add_spellings(spellings, stranger, {stranger.what.name, stranger.what.source});
    return spellings;
  }();
  return all;
}

const std::unordered_map<std::string_view, HostWord>& host_spellings() {
  static const std::unordered_map<std::string_view, HostWord> all = [] {
    std::unordered_map<std::string_view, HostWord> spellings;
    for (const HostEntry& entry : hosts)
      for (const std::string_view word : listed_words(entry.words))
        spellings.emplace(word, entry.host);
    return spellings;
  }();
  return all;
}

/// As `strangers`, each alone.
const std::array<Spellings, strangers.size()>& stranger_spellings() {
  static const std::array<Spellings, strangers.size()> all = [] {
    std::array<Spellings, strangers.size()> spellings;
    for (std::size_t i = 0; i < strangers.size(); ++i)
      add_spellings(spellings[i], strangers[i], {strangers[i].what.name, strangers[i].what.source});
    return spellings;
  }();
  return all;
}

/// Whether one of these stands in a name, no word of it in part. Both are plain_words().
bool has_any_of(std::string_view name, const Spellings& spellings) {
  const std::string within = fmt::format(" {} ", name);
  return std::ranges::any_of(spellings, [&](const auto& spelling) {
    return within.find(fmt::format(" {} ", spelling.first)) != std::string::npos;
  });
}

/// Of the worms, the names to offer: no letters that a genus is cut to.
template <typename Entry>
void add_offered(std::vector<std::string_view>& names, const Entry& entry, std::string_view name) {
  for (const std::string_view list : {name, entry.genera, entry.whole_names})
    for (const std::string_view word : listed_words(list))
      if (std::ranges::find(names, word) == names.end())
        names.push_back(word);
}

} // namespace

std::string_view to_string(WordSource source) {
  return source == WordSource::memory ? "memory" : "practice";
}

std::optional<HostWord> known_host(std::string_view word) {
  const auto found = host_spellings().find(plain_words(word));
  return found == host_spellings().end() ? std::nullopt : std::optional(found->second);
}

std::vector<std::string_view> hosts_with_cut_offs() {
  std::vector<std::string_view> names;
  for (const HostEntry& entry : hosts)
    if (entry.host.has_cut_offs)
      names.push_back(entry.host.name);
  return names;
}

std::optional<WormWord> known_worm(std::string_view name) {
  const auto found = worm_spellings().find(plain_words(name));
  return found == worm_spellings().end() ? std::nullopt : std::optional(found->second);
}

std::optional<NotARoundworm> not_a_roundworm(std::string_view name) {
  const std::string words = plain_words(name);
  for (std::size_t i = 0; i < strangers.size(); ++i)
    if (has_any_of(words, stranger_spellings()[i]))
      return strangers[i].what;
  return std::nullopt;
}

std::vector<std::string_view> nearest_words(std::string_view word,
                                            const std::vector<std::string_view>& words) {
  constexpr std::size_t most_offered = 3;
  constexpr std::size_t longest = 100; // The distance takes time as the product of both lengths.
  const std::string lower = lower_case(word);
  std::vector<std::string_view> nearest;
  if (lower.empty() || lower.size() > longest)
    return nearest;
  std::size_t least = std::max<std::size_t>(1, lower.size() / 3);
  for (const std::string_view known : words) {
    const std::size_t distance = edit_distance(lower, lower_case(known));
    if (distance == 0)
      return {};
    if (distance < least)
      nearest.clear();
    if (distance > least)
      continue;
    least = distance;
    if (nearest.size() < most_offered)
      nearest.push_back(known);
  }
  return nearest;
}

std::vector<std::string_view> nearest_hosts(std::string_view word) {
  std::vector<std::string_view> words;
  for (const HostEntry& entry : hosts)
    for (const std::string_view each : listed_words(entry.words))
      words.push_back(each);
  return nearest_words(word, words);
}

std::optional<std::string> expected_host(std::string_view word) {
  if (known_host(word))
    return std::nullopt;
  const std::vector<std::string_view> nearest = nearest_hosts(word);
  if (nearest.empty())
    return std::nullopt;
  return fmt::format("a host that is known{}, or other words for one that is not",
                     is_meant(nearest));
}

std::string host_told(std::string_view word) {
  if (auto expected = expected_host(word))
    refuse_setting(Setting::host, in_quotes(word), *std::move(expected));
  return canonical_host(word);
}

std::vector<std::string_view> nearest_worms(std::string_view name) {
  std::vector<std::string_view> names;
  for (const WormEntry& worm : roundworms)
    add_offered(names, worm, worm.name);
  for (const StrangerEntry& stranger : strangers)
    add_offered(names, stranger, stranger.what.name);
  return known_worm(name) ? std::vector<std::string_view>() : nearest_words(name, names);
}

std::string is_meant(const std::vector<std::string_view>& words) {
  if (words.empty())
    return {};
  std::string list(words.front());
  for (std::size_t i = 1; i < words.size(); ++i)
    list += fmt::format("{}{}", i + 1 == words.size() ? " or " : ", ", words[i]);
  return fmt::format(" (is {} meant?)", list);
}

std::vector<std::string_view> listed_words(std::string_view list) {
  std::vector<std::string_view> words;
  while (!list.empty()) {
    const std::size_t bar = std::min(list.find('|'), list.size());
    words.push_back(list.substr(0, bar));
    list.remove_prefix(std::min(bar + 1, list.size()));
  }
  return words;
}

} // namespace eggfall
