// Time from a frame struct to a finished surface, painted by the software renderer, for each page
// and size: laid out alone, every pixel, only what changed while playing, and where nothing
// changed. Prints JSON: wall-clock time, the processor's time of the thread, which other programs
// on the machine do not disturb, and how many pixels a playing frame repaints.
//
// usage: frame_bench [--page NAME]... [--size WIDTHxHEIGHT]... [--frames N]
#include "render/canvas.hpp"
#include "render/layout.hpp"
#include "render/sample_frames.hpp"
#include "render/sample_motion.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <initializer_list>

using namespace landfall::render;
using Clock = std::chrono::steady_clock;

namespace {

struct Wanted {
  std::vector<std::string> pages; ///< None: all.
  std::vector<Size> sizes;
  int frames = 120;

  bool has(const std::string& page) const {
    return pages.empty() || std::find(pages.begin(), pages.end(), page) != pages.end();
  }
};

bool read_option(Wanted& wanted, const char* option, const char* value) {
  Size size;
  if (std::strcmp(option, "--page") == 0)
    return wanted.pages.emplace_back(value), true;
  if (std::strcmp(option, "--frames") == 0)
    return (wanted.frames = std::atoi(value)) > 0;
  if (std::strcmp(option, "--size") == 0 &&
      std::sscanf(value, "%dx%d", &size.width, &size.height) == 2)
    return wanted.sizes.push_back(size), true;
  return false;
}

bool read_options(Wanted& wanted, int count, char** words) {
  for (int i = 1; i < count; i += 2)
    if (i + 1 >= count || !read_option(wanted, words[i], words[i + 1]))
      return false;
  if (wanted.sizes.empty())
    wanted.sizes = {{800, 450}, {1280, 720}, {1920, 1080}, {3840, 2160}};
  return true;
}

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

  void print(const char* kind) const {
    std::printf(",\"%s\":{\"cpu_median_ms\":%.3f,\"cpu_p99_ms\":%.3f,\"median_ms\":%.3f,"
                "\"p99_ms\":%.3f}",
                kind, quantile(cpu_ms, 0.5), quantile(cpu_ms, 0.99), quantile(wall_ms, 0.5),
                quantile(wall_ms, 0.99));
  }
};

/// Playing comes first, as in a window: the pictures of arcs are made on the way.
void measure(const samples::Named& page, Size size, const Fonts& fonts, int count) {
  auto canvas = Canvas::create(size, fonts);
  if (!canvas)
    std::exit(1);
  const auto frames = samples::playing(page.frame, count);
  Times laid_out, whole, playing, unchanged;
  (*canvas)->paint(layout(frames.front(), size, fonts));
  const auto before = (*canvas)->painted_pixels();
  for (const Frame& frame : frames)
    playing.time([&] { (*canvas)->update(layout(frame, size, fonts)); });
  const auto pixels = ((*canvas)->painted_pixels() - before) / frames.size();
  for (int i = 0; i < count; ++i)
    unchanged.time([&] { (*canvas)->update(layout(frames.back(), size, fonts)); });
  for (const Frame& frame : frames) {
    laid_out.time([&] { layout(frame, size, fonts); });
    whole.time([&] { (*canvas)->paint(layout(frame, size, fonts)); });
  }
  std::printf("  {\"page\":\"%s\",\"size\":\"%dx%d\",\"frames\":%zu", page.name.c_str(), size.width,
              size.height, frames.size());
  laid_out.print("layout");
  whole.print("whole");
  playing.print("playing");
  unchanged.print("unchanged");
  std::printf(",\"pixels_playing\":%llu,\"share_playing\":%.3f,\"texture_bytes\":%zu}",
              static_cast<unsigned long long>(pixels),
              static_cast<double>(pixels) / size.width / size.height, (*canvas)->texture_bytes());
}

} // namespace

int main(int count, char** words) {
  Wanted wanted;
  if (!read_options(wanted, count, words)) {
    std::fprintf(stderr,
                 "usage: frame_bench [--page NAME]... [--size WIDTHxHEIGHT]... [--frames N]\n");
    return 2;
  }
  const auto fonts = Fonts::open(std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts");
  if (!fonts) {
    std::fprintf(stderr, "%s\n", fonts.error().c_str());
    return 1;
  }
  const char* separator = "";
  std::printf("{\"frames\":[\n");
  for (const Size size : wanted.sizes)
    for (const auto& page : samples::all())
      if (wanted.has(page.name)) {
        std::printf("%s", separator);
        measure(page, size, **fonts, wanted.frames);
        separator = ",\n";
      }
  std::printf("\n]}\n");
}
