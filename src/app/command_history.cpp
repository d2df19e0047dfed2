#include "app/command_line.hpp"
#include "app/data.hpp"
#include "app/history_file.hpp"
#include "app/history_offers.hpp"
#include "app/history_store.hpp"
#include "app/history_text.hpp"
#include "app/library.hpp"
#include "app/music_options.hpp"
#include "app/settings.hpp"
#include "practice/plots.hpp"

#include <ostream>

namespace landfall::app {
namespace {

struct HistoryArguments {
  std::string profile, svg;
  bool json = false, csv = false;
};

using Records = std::vector<practice::ChorusRecord>;

/// Nothing is made where there is none.
Result<Records, std::string> read_records(const std::filesystem::path& file) {
  std::error_code error;
  if (!std::filesystem::exists(file, error))
    return Records{};
  const auto store = HistoryStore::open(file);
  if (!store)
    return store.error();
  return store->choruses();
}

HistoryReport report_of(const Records& records) {
  std::string problem;
  const auto settings = load_settings(settings_file(), problem);
  const auto instrument = load_instrument(settings.instrument.name);
  const auto offers = offers_for(instrument ? *instrument : neck::standard_guitar());
  HistoryReport report;
  report.history = practice::history_of(records, minutes_east());
  report.next = todays_proposals(report.history, offers);
  for (const auto& proposal : report.next)
    report.beats.push_back(proposed_beats(proposal, offers));
  return report;
}

int show(const HistoryArguments& arguments, const Streams& streams) {
  const auto file = history_file(arguments.profile);
  if (!file)
    throw UsageError{file.error()};
  const auto records = read_records(*file);
  if (!records)
    return complain(streams, file->string() + ": " + records.error()), exit_failure;
  if (arguments.csv)
    return streams.out << history_csv(*records), exit_ok;
  const auto report = report_of(*records);
  if (arguments.json)
    return streams.out << history_json(report).dump() << '\n', exit_ok;
  if (arguments.svg.empty())
    return streams.out << history_text(report), exit_ok;
  const auto problem = write_file(arguments.svg, history_svg(report.history, today()));
  if (!problem.empty())
    return complain(streams, arguments.svg + ": " + problem), exit_failure;
  return exit_ok;
}

} // namespace

int run_history(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"What was practised, what is weak, what next.", "landfall history"};
  HistoryArguments history;
  app.option("--profile", history.profile, "Whose history; without it, the usual player's");
  app.flag("--json", history.json, "One JSON document");
  app.flag("--csv", history.csv, "A line for each chorus");
  app.option("--svg", history.svg, "Draw the plots into this file").file();
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&] {
    if (int{history.json} + int{history.csv} + int{!history.svg.empty()} > 1)
      throw UsageError{"only one of --json, --csv and --svg at a time"};
    return show(history, streams);
  });
}

} // namespace landfall::app
