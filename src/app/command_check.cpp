#include "app/command_line.hpp"
#include "app/data.hpp"
#include "app/library.hpp"
#include "app/neck_json.hpp"

#include <iostream>

namespace landfall::app {
namespace {

using song::Diagnostic;
using song::Severity;

std::vector<Diagnostic> as_list(const TextError& error) {
  return {{Severity::error, {error.line, error.column}, error.reason}};
}

template <typename T> std::vector<Diagnostic> errors_of(const Result<T>& result) {
  return result ? std::vector<Diagnostic>{} : as_list(result.error());
}

std::vector<Diagnostic> diagnose(const std::filesystem::path& path) {
  const auto ending = path.extension();
  const auto file = read_file(path);
  if (!file.error.empty())
    return as_list({file.error});
  if (ending == ".song")
    return song::read_song(file.text).diagnostics;
  if (ending == ".feel")
    return errors_of(band::parse_feel(file.text));
  if (ending == ".instrument")
    return errors_of(neck::parse_instrument(file.text));
  return as_list({"expected a file that ends in .song, .feel or .instrument"});
}

const char* name_of(Severity severity) {
  return severity == Severity::error ? "error" : "warning";
}

void print(std::ostream& out, bool json, const std::string& file, const Diagnostic& diagnostic) {
  const auto& [severity, at, message] = diagnostic;
  if (json)
    out << Json{{"file", file},
                {"line", at.line},
                {"column", at.column},
                {"severity", name_of(severity)},
                {"message", message}}
               .dump(-1, ' ', false, Json::error_handler_t::replace)
        << '\n';
  else
    out << file << ':' << at.line << ':' << at.column << ": " << name_of(severity) << ": "
        << message << '\n';
}

} // namespace

int run_check(const Arguments& arguments, const Streams& streams) {
  CLI::App app{"Checks song, feel and instrument files.", "landfall check"};
  std::vector<std::string> files;
  bool json = false;
  app.add_option("FILE", files, "Files to check")->required();
  app.add_flag("--json", json, "One JSON line for each finding");
  if (const auto done = parse(app, arguments, streams))
    return *done;
  bool failed = false;
  for (const auto& file : files)
    for (const auto& diagnostic : diagnose(file)) {
      failed = failed || diagnostic.severity == Severity::error;
      print(json ? streams.out : streams.err, json, file, diagnostic);
    }
  return failed ? exit_failure : exit_ok;
}

} // namespace landfall::app
