#include "app/command.hpp"

#include <csignal>
#include <iostream>

int main(int argc, char** argv) {
  std::signal(SIGPIPE, SIG_IGN);
  const landfall::app::Arguments arguments(argv + 1, argv + argc);
  return landfall::app::run(arguments, {std::cin, std::cout, std::cerr});
}
