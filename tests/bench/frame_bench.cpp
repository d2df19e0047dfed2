// Time from a frame struct to a finished surface, painted by the software renderer: every pixel,
// and only what changed while playing. Prints JSON: wall-clock time, and the processor's time of
// the thread, which other programs on the machine do not disturb.
#include "render/canvas.hpp"
#include "render/layout.hpp"
#include "render/sample_frames.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <initializer_list>

using namespace landfall::render;
using Clock = std::chrono::steady_clock;

namespace {

constexpr int rounds = 300;

double thread_ms() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) * 1e3 + static_cast<double>(now.tv_nsec) / 1e6;
}

double quantile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return values.at(static_cast<std::size_t>(share * static_cast<double>(values.size() - 1)));
}

struct Times {
  std::vector<double> wall_ms, cpu_ms;

  template <typename Work> void time(Work work) {
    const auto start = Clock::now();
    const double cpu = thread_ms();
    work();
    cpu_ms.push_back(thread_ms() - cpu);
    wall_ms.push_back(std::chrono::duration<double, std::milli>(Clock::now() - start).count());
  }
};

/// The frame as it is shown `step` sixtieths of a second later, at 96 beats a minute.
Frame moved(const Frame& frame, int step) {
  const double beats = step * 96.0 / 3600.0;
  Frame next = frame;
  auto move = [&](double& beat) { beat -= beats; };
  for (LaneBar& bar : next.lane.bars)
    move(bar.beat);
  for (LaneChord& chord : next.lane.chords)
    move(chord.beat);
  for (TraceNote& note : next.lane.trace)
    move(note.from);
  for (Verdict& verdict : next.lane.verdicts)
    move(verdict.beat);
  auto sweep = [&](Mark& mark) {
    if (mark.coming)
      mark.coming = std::min(1.0, *mark.coming + beats / 16);
  };
  if (auto* page = std::get_if<PlacesPage>(&next.page))
    for (PlacePanel& panel : page->panels)
      for (Place& place : panel.neck.places)
        sweep(place.mark);
  if (auto* neck = std::get_if<Neck>(&next.board))
    for (Place& place : neck->places)
      sweep(place.mark);
  else
    for (Key& key : std::get<Keyboard>(next.board).keys)
      sweep(key.mark);
  return next;
}

std::vector<Frame> playing(const Frame& frame) {
  std::vector<Frame> frames;
  for (int step = 0; step < rounds; ++step)
    frames.push_back(moved(frame, step));
  return frames;
}

void report(const std::string& page, Size size, const char* kind, const Times& times, bool last) {
  std::printf("  {\"page\":\"%s\",\"size\":\"%dx%d\",\"kind\":\"%s\",\"frames\":%zu,"
              "\"median_ms\":%.3f,\"p99_ms\":%.3f,\"cpu_median_ms\":%.3f,\"cpu_p99_ms\":%.3f}%s\n",
              page.c_str(), size.width, size.height, kind, times.wall_ms.size(),
              quantile(times.wall_ms, 0.5), quantile(times.wall_ms, 0.99),
              quantile(times.cpu_ms, 0.5), quantile(times.cpu_ms, 0.99), last ? "" : ",");
}

void measure(const samples::Named& page, Size size, const Fonts& fonts, bool last) {
  auto canvas = Canvas::create(size, fonts);
  if (!canvas)
    std::exit(1);
  const std::vector<Frame> frames = playing(page.frame);
  Times laid_out, full, changed, still;
  for (const Frame& frame : frames) {
    laid_out.time([&] { layout(frame, size, fonts); });
    full.time([&] { (*canvas)->paint(layout(frame, size, fonts)); });
  }
  for (const Frame& frame : frames)
    changed.time([&] { (*canvas)->update(layout(frame, size, fonts)); });
  for (int i = 0; i < rounds; ++i)
    still.time([&] { (*canvas)->update(layout(frames.back(), size, fonts)); });
  report(page.name, size, "layout alone", laid_out, false);
  report(page.name, size, "every pixel", full, false);
  report(page.name, size, "playing", changed, false);
  report(page.name, size, "unchanged", still, last);
}

} // namespace

int main() {
  const auto fonts = Fonts::open(std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts");
  if (!fonts) {
    std::fprintf(stderr, "%s\n", fonts.error().c_str());
    return 1;
  }
  const auto pages = samples::all();
  std::printf("{\"frames\":[\n");
  for (const Size size : {Size{1280, 720}, Size{1920, 1080}})
    for (std::size_t i = 0; i < pages.size(); ++i)
      measure(pages[i], size, **fonts, size.width == 1920 && i + 1 == pages.size());
  std::printf("]}\n");
}
