#include "app/command_record.hpp"
#include "app/manual.hpp"
#include "app/names.hpp"
#include "app/run_command.hpp"
#include "app/shell_completion.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>

using namespace landfall;
using landfall::test::run;
using landfall::test::ScratchFolder;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

bool is_there(const std::string& program) {
  return std::system(("command -v " + program + " >/dev/null 2>&1").c_str()) == 0;
}

/// What a shell command prints, errors too.
std::string output_of(const std::string& command, int expected = 0) {
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::string text;
  std::array<char, 4096> block{};
  while (const auto count = std::fread(block.data(), 1, block.size(), pipe))
    text.append(block.data(), count);
  CAPTURE(text);
  CHECK(::pclose(pipe) == expected);
  return text;
}

/// The scripts in a folder, beside a `landfall` that answers --names as this build does.
struct Shells {
  ScratchFolder scratch;

  Shells() {
    const auto commands = app::command_records();
    write("landfall.1", app::man_page(commands, "0", "2000-01-01"));
    write("landfall.bash", app::bash_completion(commands));
    write("_landfall", app::zsh_completion(commands));
    write("landfall.fish", app::fish_completion(commands));
    std::string answers = "#!/bin/sh\nshift\nfor kind; do case $kind in\n";
    for (const char* kind : {"songs", "sets", "feels", "phrases", "lessons", "instruments"})
      answers += std::string(kind) + ") cat <<'END'\n" + run({"--names", kind}).out + "END\n;;\n";
    write("landfall", answers + "esac; done\n");
    std::filesystem::permissions(scratch.path / "landfall", std::filesystem::perms::owner_all);
  }

  void write(const char* name, const std::string& text) const {
    std::ofstream(scratch.path / name) << text;
  }

  std::string in_folder(const std::string& command) const {
    return "cd '" + scratch.path.string() + "' && PATH=\"$PWD:$PATH\" " + command;
  }

  /// What bash offers for words with the last of them unfinished, a line each.
  std::string bash(const std::string& words) const {
    return output_of(in_folder("bash -c '. ./landfall.bash; COMP_WORDS=(" + words +
                               "); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _landfall; "
                               "printf \"%s\\n\" \"${COMPREPLY[@]}\"'"));
  }
};

} // namespace

TEST_CASE("every command and option that --help shows is in the man page and the completions") {
  const auto commands = app::command_records();
  REQUIRE(commands.size() == app::command_names().size() + 1);
  const auto man = app::man_page(commands, "0", "2000-01-01");
  const auto bash = app::bash_completion(commands);
  const auto zsh = app::zsh_completion(commands);
  const auto fish = app::fish_completion(commands);
  std::size_t options = 0;
  for (const auto& command : commands) {
    CAPTURE(command.name);
    auto arguments = app::Arguments{};
    if (!command.sub().empty())
      arguments.push_back(command.sub());
    arguments.emplace_back("--help");
    const auto help = run(arguments).out;
    std::size_t shown = 0;
    for (std::size_t at = 0; (at = help.find("\n  -", at)) != std::string::npos; ++at)
      ++shown;
    const auto begin = man.find(command.sub().empty() ? ".SH OPTIONS" : ".SS " + command.name);
    REQUIRE(begin != std::string::npos);
    const auto section = man.substr(begin, man.find("\n.S", begin + 1) - begin);
    std::size_t recorded = 0;
    for (const auto& option : command.options)
      for (const auto& name : option.names) {
        CAPTURE(name);
        CHECK(has(help, name));
        if (option.by_place())
          continue;
        recorded += &name == &option.names.front();
        std::string roff;
        for (const char c : name)
          roff += c == '-' ? "\\-" : std::string(1, c);
        CHECK(has(section, "\\fB" + roff + "\\fR"));
        CHECK(has(bash, name));
        CHECK(has(zsh, name));
        CHECK(
            has(fish, name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1)));
      }
    CHECK(shown == recorded);
    options += recorded;
  }
  CHECK(options > 100);
}

TEST_CASE("the help of the window names every command") {
  const auto help = run({"--help"}).out;
  for (const auto& name : app::command_names()) {
    CAPTURE(name);
    CHECK((has(help, " " + name + ",") || has(help, " " + name + ".") ||
           has(help, "\n" + name + ",")));
  }
}

TEST_CASE("--names lists what there is, and nothing of an unknown kind") {
  CHECK(has(run({"--names", "songs"}).out, "slipway-at-six\n"));
  CHECK(has(run({"--names", "songs", "lessons"}).out, "one-hand-five-chords\n"));
  CHECK(has(run({"--names", "sets"}).out, "major pentatonic\n"));
  const auto unknown = run({"--names", "spoons"});
  CHECK(unknown.exit == 0);
  CHECK(unknown.out.empty());
}

TEST_CASE("every kind of name that an option wants is one that there is") {
  for (const auto& command : app::command_records())
    for (const auto& option : command.options) {
      std::istringstream kinds(option.completion.names);
      for (std::string kind; kinds >> kind;) {
        CAPTURE(kind);
        CHECK(app::names_of(kind));
      }
    }
}

TEST_CASE("the values that Tab offers are values that the program takes") {
  const ScratchFolder scratch;
  const auto png = (scratch.path / "x.png").string();
  std::size_t tried = 0;
  for (const auto& command : app::command_records())
    if (command.sub() == "picture")
      for (const auto& option : command.options)
        for (const auto& value : option.completion.values) {
          CAPTURE(value);
          const auto ran = run(
              {"picture", "A | D", "-o", png, "--size", "800x450", option.names.front(), value});
          CHECK(ran.err == "");
          ++tried;
        }
  CHECK(tried > 10);
}

TEST_CASE("the man page has no fault that man or mandoc would name") {
  const Shells shells;
  if (is_there("groff"))
    CHECK(output_of(shells.in_folder("groff -ww -man -Tutf8 landfall.1 >/dev/null")) == "");
  if (is_there("mandoc"))
    CHECK(output_of(shells.in_folder("mandoc -Tlint -Wwarning landfall.1")) == "");
  if (is_there("man"))
    CHECK(has(output_of(shells.in_folder("MANWIDTH=80 man --warnings -l landfall.1 | cat")),
              "--choruses"));
}

TEST_CASE("bash completes commands, options, values and names") {
  const Shells shells;
  CHECK(shells.bash("landfall pl") == "play\n");
  CHECK(shells.bash("landfall export --chor") == "--choruses\n");
  CHECK(shells.bash("landfall play slipw") == "slipway-at-six\n");
  CHECK(shells.bash("landfall slipw") == "slipway-at-six\n");
  CHECK(shells.bash("landfall neck A --shape \"\"") == "C\nA\nG\nE\nD\n");
  CHECK(shells.bash("landfall sheet x --labels f") == "finger\n");
  CHECK(shells.bash("landfall sheet one-h") == "one-hand-five-chords\n");
  CHECK(shells.bash("landfall neck A --set major\\ pent") == "major\\ pentatonic\n");
  CHECK(shells.bash("landfall export slipway-at-six -o \"\"") == "\n");
  CHECK(has(shells.bash("landfall --"), "--full-screen\n"));
  CHECK(!has(shells.bash("landfall spell --"), "--full-screen\n"));
}

TEST_CASE("zsh and fish read their scripts, and fish completes") {
  const Shells shells;
  if (is_there("zsh"))
    CHECK(output_of(shells.in_folder("zsh -n _landfall")) == "");
  if (!is_there("fish"))
    return;
  CHECK(output_of(shells.in_folder("fish -n landfall.fish")) == "");
  const auto fish = [&](const std::string& line) {
    return output_of(
        shells.in_folder("HOME=. fish -c 'source landfall.fish; complete -C \"" + line + "\"'"));
  };
  CHECK(has(fish("landfall pl"), "play\t"));
  CHECK(has(fish("landfall play slipw"), "slipway-at-six"));
  CHECK(has(fish("landfall neck A --shape "), "G"));
}

TEST_CASE("menu entry, metainfo and icon are sound") {
  const std::string folder = LANDFALL_SOURCE_DIR "/src/app/desktop/";
  if (is_there("desktop-file-validate"))
    CHECK(output_of("desktop-file-validate '" + folder + "landfall.desktop'") == "");
  if (is_there("appstreamcli")) {
    // An id that is no domain name is the one thing that it warns of: nobody owns one yet.
    const auto said = output_of("appstreamcli validate --no-net '" + folder +
                                "landfall.metainfo.xml' | grep -E '^[EWI]: '");
    CAPTURE(said);
    CHECK(landfall::test::count_lines(said) == 1);
    CHECK(has(said, "cid-desktopapp-is-not-rdns"));
  }
  std::ifstream icon(folder + "landfall.svg");
  const std::string drawing{std::istreambuf_iterator<char>(icon), {}};
  for (const char* hue : {"#F4B942", "#63C7DA"}) // sand and tide
    CHECK(has(drawing, hue));
}
