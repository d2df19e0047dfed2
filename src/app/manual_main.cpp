#include "app/command_record.hpp"
#include "app/manual.hpp"
#include "app/shell_completion.hpp"

#include <fstream>
#include <iostream>

/// Writes the man page and the completions into a folder, for the build: `FOLDER VERSION DATE`.
int main(int argc, char** argv) {
  using namespace landfall::app;
  if (argc != 4) {
    std::cerr << "usage: landfall_manual FOLDER VERSION DATE\n";
    return 2;
  }
  const auto commands = command_records();
  const auto write = [&](const char* name, const std::string& text) {
    std::ofstream out(std::string(argv[1]) + "/" + name);
    out << text << std::flush;
    return bool(out);
  };
  const bool written = write("landfall.1", man_page(commands, argv[2], argv[3])) &&
                       write("landfall.bash", bash_completion(commands)) &&
                       write("_landfall", zsh_completion(commands)) &&
                       write("landfall.fish", fish_completion(commands));
  return written ? 0 : 1;
}
