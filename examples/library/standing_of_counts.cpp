// From counts held in memory to the class that stands, what speaks against it, and what to do next.

#include <eggfall/judgement/analyse.hpp>
#include <eggfall/trial/read_trials.hpp>

#include <iostream>

int main() {
  eggfall::CountedGroup white{.name = "white drench", .classes = {eggfall::DrugClass::bz}};
  white.eggs_before = {24, 11, 38, 17, 29, 14, 33, 21, 8, 26, 19}; // seen; index i is one animal
  white.eggs_after = {0, 1, 0, 0, {}, 0, 2, 0, 0, 0, 0};           // {}: not sampled
  eggfall::CountedGroup none{.name = "untreated", .role = eggfall::Role::control};
  none.eggs_before = {18, 31, 9, 22, 27, 12, 35, 16, 20, 25};
  none.eggs_after = {21, 26, 13, 19, 33, 10, 37, 15, 24, 22};
  eggfall::ReadOptions options;
  options.host = "sheep"; // and the EPG that one egg seen stands for:
  options.factor_before = options.factor_after = eggfall::MultiplicationFactor(15);

  const auto trial = eggfall::read_trials({white, none}, options).trials.front();
  for (const auto& group : analyse(trial, eggfall::published_cut_offs(), {}).groups) {
    const eggfall::Standing& standing = group.judgement.standing;
    std::cout << "stands as " << to_string(standing.verdict_class) << '\n';
    for (const eggfall::Bar& bar : standing.bars)
      std::cout << "but: " << bar.text << '\n';
    if (!standing.provided.empty())
      std::cout << "provided that " << standing.provided << '\n';
    std::cout << group.advice.next_step.text() << '\n';
  }
}
