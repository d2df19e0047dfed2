#include "real/screen_studio.hpp"

#include <thread>

namespace landfall::real {
namespace {

using std::chrono::milliseconds;
using Time = std::chrono::steady_clock;

constexpr milliseconds longer_than_a_beat{600};

} // namespace

ScreenStudio::ScreenStudio() : screen(program.folder()) {
  if (Studio::operator bool())
    say_why_not(screen);
}

bool falls_silent(const std::function<std::size_t()>& count) {
  auto last = count();
  auto since = Time::now();
  return eventually([&] {
    if (const auto now = count(); now != last)
      last = now, since = Time::now();
    return Time::now() - since > longer_than_a_beat;
  });
}

void tread(JackClient& client, int number) {
  client.play(midi::control(5, number, 127));
  std::this_thread::sleep_for(milliseconds(60));
  client.play(midi::control(5, number, 0));
  std::this_thread::sleep_for(milliseconds(60));
}

} // namespace landfall::real
