// Programs that come to the sound server and go while ours begins.

#include "real/studio.hpp"

#include <algorithm>
#include <atomic>
#include <csignal>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

/// Clients that come and go all the time, as a patch bay's questions do.
class Visitors {
public:
  Visitors() : thread_([this] { come_and_go(); }) {}
  ~Visitors() {
    done_ = true;
    thread_.join();
  }
  Visitors(const Visitors&) = delete;
  Visitors& operator=(const Visitors&) = delete;
  int count() const { return count_; }

private:
  void come_and_go() {
    for (; !done_; ++count_) {
      jack_client_t* visitor = jack_client_open("visitor", JackNoStartServer, nullptr);
      if (visitor != nullptr)
        jack_client_close(visitor);
      std::this_thread::sleep_for(milliseconds(5));
    }
  }

  std::atomic<bool> done_{false};
  std::atomic<int> count_{0};
  std::thread thread_;
};

bool has_notes(const std::vector<Recorded>& recorded) {
  return std::any_of(recorded.begin(), recorded.end(),
                     [](const auto& each) { return midi::is_note_on(each.message); });
}

} // namespace

TEST_CASE("the band and the keys are heard whoever comes and goes meanwhile") {
  Studio studio;
  if (!studio)
    return;
  const Visitors visitors;
  for (int i = 0; i < 8; ++i) {
    CAPTURE(i);
    studio.come_back();
    const int before = visitors.count();
    const auto play = studio.program.start(
        {"play", "A | D", "--tempo", "240", "--out", "studio:in1", "--in", "studio:out"});
    REQUIRE(eventually([&] { return has_notes(studio.client->recorded(0)); }));
    CHECK(eventually([&] { // through the input and the output
      studio.client->play(midi::note_on(0, 100, 64));
      studio.client->play(midi::note_off(0, 100));
      const auto heard = studio.client->recorded(0);
      return std::any_of(heard.begin(), heard.end(), [](const auto& each) {
        return midi::is_note_on(each.message) && each.message.bytes[1] == 100;
      });
    }));
    play->signal(SIGTERM);
    CHECK(play->wait() == 0);
    CHECK(visitors.count() > before);
  }
}
