#include <eggfall/base/version.hpp>

#include <iostream>

int main() {
  std::cout << eggfall::version() << '\n';
}
