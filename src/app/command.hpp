#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace landfall::app {

/// What a process ends with.
enum Exit : int {
  exit_ok = 0,
  exit_failure = 1, ///< Files, devices, names that `spell` cannot read.
  exit_usage = 2,   ///< Anything wrong on the command line.
};

struct CommandRecord;

/// Where a command reads and writes, so that tests can stand in for the terminal.
struct Streams {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  /// Where it stands, a command only says here what it takes.
  CommandRecord* record = nullptr;
};

using Arguments = std::vector<std::string>;

/// Says `landfall: TEXT` on standard error.
void complain(const Streams& streams, const std::string& text);

int run_spell(const Arguments& arguments, const Streams& streams);
int run_neck(const Arguments& arguments, const Streams& streams);
int run_changes(const Arguments& arguments, const Streams& streams);
int run_ports(const Arguments& arguments, const Streams& streams);
int run_check(const Arguments& arguments, const Streams& streams);
int run_picture(const Arguments& arguments, const Streams& streams);
int run_review(const Arguments& arguments, const Streams& streams);
int run_import(const Arguments& arguments, const Streams& streams);
int run_export(const Arguments& arguments, const Streams& streams);
int run_phrase(const Arguments& arguments, const Streams& streams);
int run_play(const Arguments& arguments, const Streams& streams);
int run_sheet(const Arguments& arguments, const Streams& streams);
int run_pack(const Arguments& arguments, const Streams& streams);
int run_history(const Arguments& arguments, const Streams& streams);
int run_window(const Arguments& arguments, const Streams& streams);

/// The names of all commands, in the order of the help.
std::vector<std::string> command_names();

/// The whole program: a first argument that is a command's name is the command, anything else
/// opens the window. Never throws. `--names KIND...`, which completions ask, is told nowhere else.
int run(const Arguments& arguments, const Streams& streams);

} // namespace landfall::app
