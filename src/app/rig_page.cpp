#include "app/rig_page.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

constexpr std::chrono::milliseconds look_time{250};

std::string with_digits(double value, int digits) {
  const double scale = std::pow(10, digits);
  auto text = std::to_string(std::llround(value * scale));
  if (digits == 0)
    return text;
  while (text.size() <= static_cast<std::size_t>(digits))
    text.insert(0, "0");
  return text.insert(text.size() - static_cast<std::size_t>(digits), ".");
}

/// `12,345`
std::string grouped(std::uint64_t number) {
  auto text = std::to_string(number);
  for (auto at = text.size(); at > 3;) {
    at -= 3;
    text.insert(at, ",");
  }
  return text;
}

render::RigChart chart_of(const char* title, std::string about,
                          const midi::HistogramCounts& counts) {
  render::RigChart chart{title, std::move(about), {}};
  const auto most = std::max<std::uint64_t>(1, *std::max_element(counts.begin(), counts.end()));
  for (std::size_t i = 0; i < counts.size(); ++i) {
    const bool last = i == midi::histogram_ends_us.size();
    const auto end = milliseconds_words(midi::histogram_ends_us[last ? i - 1 : i]);
    chart.columns.push_back({last ? "more" : end,
                             static_cast<double>(counts[i]) / static_cast<double>(most),
                             counts[i] == 0 ? "" : grouped(counts[i])});
  }
  return chart;
}

std::string summary_words(const midi::LatenessSummary& summary) {
  if (summary.events == 0)
    return "nothing yet";
  return milliseconds_words(summary.median_us) + ", " + milliseconds_words(summary.p99_us) + ", " +
         milliseconds_words(summary.worst_us) + " ms";
}

std::string clock_words(const RigReading& reading) {
  if (!reading.follows_clock)
    return reading.sends_clock ? "sent" : "neither sent nor followed";
  std::string words = reading.sends_clock ? "sent; " : "";
  if (!reading.clock.clocks)
    return words + "followed, none comes";
  words += "followed, " + with_digits(bpm(reading.clock.line.tempo), 1) + " bpm";
  return words + (reading.clock.locked ? "" : ", not steady yet");
}

std::string input_words(const InputRate::Reading& input) {
  if (input.all == 0)
    return "nothing yet";
  return grouped(input.now) + " messages a second, at most " + grouped(input.most);
}

std::string count_words(std::uint64_t count) {
  return count == 0 ? "none" : grouped(count);
}

} // namespace

std::string milliseconds_words(double microseconds) {
  const double milliseconds = microseconds / 1000;
  int digits = milliseconds < 0.0995 ? 2 : milliseconds < 9.95 ? 1 : 0;
  auto text = with_digits(milliseconds, digits);
  while (digits-- > 0 && text.ends_with("0"))
    text.pop_back();
  return text.ends_with(".") ? text.substr(0, text.size() - 1) : text;
}

render::RigPage rig_page(const RigReading& reading) {
  render::RigPage page;
  page.title = "How the rig keeps time";
  page.subtitle = reading.ports;
  page.charts.push_back(chart_of("Messages sent late by", "milliseconds", reading.sent.histogram));
  page.charts.push_back(chart_of("Pictures that took", "milliseconds", reading.frame_histogram));
  const auto add = [&](const char* name, std::string value, bool warns = false) {
    page.facts.push_back({name, std::move(value), warns});
  };
  add("Sent", grouped(reading.sent.lateness.events) + " messages");
  add("Late: median, 99 %, worst", summary_words(reading.sent.lateness));
  add("Lost or too late", count_words(reading.sent.drops), reading.sent.drops > 0);
  add("Sending thread", reading.sent.realtime ? "at real-time priority"
                                              : "at normal priority: the system grants no other");
  if (reading.xruns)
    add("Gaps in the synth's sound", count_words(*reading.xruns), *reading.xruns > 0);
  if (reading.xruns)
    add("Its latency", reading.low_latency ? "low" : "usual");
  add("Comes in", input_words(reading.input));
  add("Lost coming in", count_words(reading.input_drops), reading.input_drops > 0);
  add("MIDI clock", clock_words(reading));
  add("Pictures", reading.frames.events == 0
                      ? "none yet"
                      : grouped(reading.frames.events) + " by " + reading.painter);
  add("Work: median, 99 %, worst", summary_words(reading.frames));
  return page;
}

void RigView::show(FrameInput& input) {
  if (const auto now = Clock::now(); now >= due_) {
    page_ = rig_page(read_());
    due_ = now + look_time;
  }
  input.page = page_;
}

} // namespace landfall::app
