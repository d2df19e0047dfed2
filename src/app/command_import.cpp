#include "app/command_line.hpp"
#include "app/data.hpp"
#include "song/musicxml.hpp"
#include "song/writer.hpp"

#include <ostream>

namespace landfall::app {

int run_import(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Makes a song of the chord symbols of a MusicXML score.", "landfall import"};
  std::string score, output;
  bool force = false;
  app.option("SCORE", score, "A score: .musicxml or .xml").required().file();
  app.option("-o,--output", output, "The song file; without it, the song is printed").file();
  app.flag("--force", force, "Write over a file that is there");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  const auto fail = [&](const std::string& reason) {
    return complain(streams, reason), exit_failure;
  };
  const auto file = read_file(score);
  if (!file.error.empty())
    return fail(score + ": " + file.error);
  const auto imported = song::import_musicxml(file.text);
  for (const auto& each : imported.diagnostics)
    complain(streams, score + ":" + std::to_string(each.at.line) + ": " + each.message);
  if (!imported.song)
    return exit_failure;
  const auto text = as_text(*imported.song);
  if (output.empty()) {
    streams.out << text;
    return exit_ok;
  }
  std::error_code ignored;
  if (!force && std::filesystem::exists(output, ignored))
    return fail(output + ": is there already; --force writes over it");
  if (const auto reason = write_file(output, text); !reason.empty())
    return fail(output + ": " + reason);
  return exit_ok;
}

} // namespace landfall::app
