#include "real/studio.hpp"

namespace landfall::real {

void say_why_not(const JackServer& server) {
  if (midi::test::is_installed("jackd"))
    FAIL(server.problem());
  else
    MESSAGE("skipped: " << server.problem());
}

void Studio::come_back() {
  client.reset();
  client = std::make_unique<JackClient>("studio");
  REQUIRE(client->running());
}

std::unique_ptr<Child> Studio::play_whole(const Command& command,
                                          const std::function<void(Child&)>& meanwhile) {
  auto timed = command;
  timed.emplace_back("--timing");
  for (int i = 0; i < performances; ++i) {
    come_back();
    auto play = program.start(timed);
    if (meanwhile)
      meanwhile(*play);
    CHECK(play->wait(std::chrono::seconds(20)) == 0);
    if (is_whole(*play))
      return play;
  }
  FAIL("no performance was whole");
  return nullptr;
}

bool is_whole(const Child& ended) {
  return ended.out().find("\"drops\":0,") != std::string::npos;
}

} // namespace landfall::real
