#include "app/command_line.hpp"

#include <algorithm>
#include <ostream>

namespace landfall::app {
namespace {

std::string one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

} // namespace

std::optional<int> parse(CLI::App& app, const Arguments& arguments, const Streams& streams) {
  auto reversed = Arguments(arguments.rbegin(), arguments.rend());
  try {
    app.parse(reversed);
  } catch (const CLI::CallForHelp&) {
    streams.out << app.help();
    return exit_ok;
  } catch (const CLI::CallForVersion& version) {
    streams.out << version.what() << '\n';
    return exit_ok;
  } catch (const CLI::ParseError& error) {
    complain(streams, one_line(error.what()) + " (see " + app.get_name() + " --help)");
    return exit_usage;
  }
  return std::nullopt;
}

} // namespace landfall::app
